import { createRoute, type OpenAPIHono, z } from '@hono/zod-openapi';
import type { Context } from 'hono';
import type { Transfer } from '../store/index.ts';
import { callerOf } from './access/caller.ts';
import { piecesOf } from './bodies.ts';
import type { ServerContext } from './context.ts';
import { isOwn, ownerOf } from './owner.ts';
import { problemResponse, RequestProblem } from './problem.ts';
import { problems, router } from './routing.ts';
import { transferProblem } from './transfer-problem.ts';
import {
  announcementOf,
  piecesHeadersOf,
  progressHeaders,
  tusAlgorithms,
  tusContent,
  tusExtensions,
  tusVersion,
} from './tus.ts';

const address = '/api/transfers';
const params = z.object({ id: z.string().regex(/^[0-9a-f]{32}$/, { error: 'no such transfer is known' }) });
const bytes = { content: { [tusContent]: { schema: z.string().meta({ format: 'binary' }) } } };

const ask = createRoute({
  method: 'options',
  path: address,
  summary: 'What of the resumable upload protocol (tus 1.0.0) is spoken here',
  responses: {
    204: { description: 'In the headers Tus-Version, Tus-Extension and Tus-Max-Size.' },
    ...problems,
  },
});

const begin = createRoute({
  method: 'post',
  path: address,
  summary: 'Begin a transfer, or find the one that was begun for the same file',
  responses: { 201: { description: 'Its address is in the header Location.' }, ...problems },
});

const see = createRoute({
  method: 'get',
  path: `${address}/{id}`,
  summary: 'How far a transfer is; the same by HEAD',
  request: { params },
  responses: { 200: { description: 'In the headers Upload-Offset and Upload-Length.' }, ...problems },
});

const append = createRoute({
  method: 'patch',
  path: `${address}/{id}`,
  summary: 'Send bytes, from where the transfer is on',
  request: { params, body: bytes },
  responses: {
    204: { description: 'They are safe. Once all are, the file waits at /api/uploads/{id}.' },
    ...problems,
  },
});

const giveUp = createRoute({
  method: 'delete',
  path: `${address}/{id}`,
  summary: 'Give a transfer up, with what came of it',
  request: { params },
  responses: { 204: { description: 'It is gone.' }, ...problems },
});

/**
 * The routes by which large files come in over lines that break: the open protocol tus 1.0.0, with the extensions
 * creation, checksum, termination and expiration. No library's server stands behind them: the one that there is for Node
 * does not flush what it acknowledges, knows no owners, and leaves the checksum extension out.
 */
export function transferRoutes({
  transfers,
  uploads,
  uploadRate,
  largestUpload,
}: ServerContext): OpenAPIHono {
  const routes = router();
  routes.use(address, inProtocol);
  routes.use(`${address}/*`, inProtocol);

  const own = async (c: Context, id: string): Promise<void> => {
    const owner = await transfers.ownerOf(id);
    if (owner === null || !isOwn(callerOf(c), owner)) throw unknown;
  };

  routes.openapi(ask, (c) => {
    return c.body(null, 204, {
      'tus-resumable': tusVersion,
      'tus-version': tusVersion,
      'tus-extension': tusExtensions,
      'tus-max-size': String(largestUpload),
      'tus-checksum-algorithm': tusAlgorithms.join(','),
    });
  });

  routes.openapi(begin, async (c) => {
    const owner = ownerOf(callerOf(c));
    const announced = announcementOf(c);
    await uploadRate.begin(owner);
    await uploads.sweep(Date.now());
    const transfer = await answered(transfers.begin({ ...announced, owner }));
    return c.body(null, 201, { ...progressHeaders(transfer), location: `${address}/${transfer.id}` });
  });

  routes.openapi(see, async (c) => {
    const { id } = c.req.valid('param');
    await own(c, id);
    const transfer = await answered(transfers.find(id));
    if (transfer === null) throw unknown;
    return c.body(null, 200, { ...progressHeaders(transfer), 'upload-length': String(transfer.bytes) });
  });

  routes.openapi(append, async (c) => {
    const { id } = c.req.valid('param');
    const { offset, check } = piecesHeadersOf(c);
    await own(c, id);
    const { body } = c.req.raw;
    const transfer = await uploadRate.taking(ownerOf(callerOf(c)), () =>
      answered(
        transfers.append(id, offset, (stop) => (body === null ? nothing() : piecesOf(body, stop)), check),
      ),
    );
    return c.body(null, 204, progressHeaders(transfer));
  });

  routes.openapi(giveUp, async (c) => {
    const { id } = c.req.valid('param');
    await own(c, id);
    await transfers.end(id);
    return c.body(null, 204, { 'tus-resumable': tusVersion });
  });
  return routes;
}

/** Each request but OPTIONS names the version, and each answer does. */
async function inProtocol(c: Context, next: () => Promise<void>): Promise<Response | undefined> {
  const spoken = c.req.method === 'OPTIONS' || c.req.header('tus-resumable') === tusVersion;
  if (spoken) await next();
  const answer = spoken ? c.res : problemResponse(c, wrongVersion);
  answer.headers.set('tus-resumable', tusVersion);
  if (!spoken) answer.headers.set('tus-version', tusVersion);
  return spoken ? undefined : answer;
}

async function answered(work: Promise<Transfer>): Promise<Transfer>;
async function answered(work: Promise<Transfer | null>): Promise<Transfer | null>;
async function answered(work: Promise<Transfer | null>): Promise<Transfer | null> {
  return work.catch((error: unknown) => {
    throw transferProblem(error);
  });
}

async function* nothing(): AsyncGenerator<Uint8Array> {}

const unknown = new RequestProblem(
  'unknown-upload',
  'This transfer is not under way here: it is over, or nothing came for a day.',
  'Send the file from its beginning.',
);

const wrongVersion = new RequestProblem(
  'wrong-protocol',
  `Transfers go by version ${tusVersion} of the resumable upload protocol.`,
  `Send the header Tus-Resumable: ${tusVersion}.`,
);
