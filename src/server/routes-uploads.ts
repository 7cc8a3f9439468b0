import { createRoute, type OpenAPIHono, z } from '@hono/zod-openapi';
import type { Context } from 'hono';
import type { WaitingFile } from '../store/index.ts';
import { callerOf } from './access/caller.ts';
import type { ServerContext } from './context.ts';
import {
  keepRequest,
  kept,
  type ReadOptionsView,
  readOptions,
  type UploadView,
  upload,
} from './contract/index.ts';
import { experimentIn, type Keeping } from './keeping.ts';
import { isOwn } from './owner.ts';
import { placeByName } from './place-by-name.ts';
import { RequestProblem } from './problem.ts';
import { answers, jsonBody, router } from './routing.ts';
import { takeIn } from './take-in.ts';
import { understand } from './understanding.ts';

const take = createRoute({
  method: 'post',
  path: '/api/uploads',
  summary: 'Hand a file over and see how it is understood; its bytes are the body',
  request: {
    query: z.object({ name: z.string().min(1).max(300).describe('What the file is called.') }),
    body: { content: { 'application/octet-stream': { schema: z.string().meta({ format: 'binary' }) } } },
  },
  responses: answers(upload, 'The file waits for a day to be read otherwise or to be kept.'),
});

const params = z.object({ id: z.string().regex(/^[0-9a-f]{32}$/, { error: 'no such file is known' }) });

const readAgain = createRoute({
  method: 'post',
  path: '/api/uploads/{id}/read',
  summary: 'Read a waiting file with what a person knows better',
  request: { params, ...jsonBody(z.object({ options: readOptions })) },
  responses: answers(upload, 'The same again.'),
});

const keep = createRoute({
  method: 'post',
  path: '/api/uploads/{id}/keep',
  summary: 'Give a waiting file its place among the recordings; nothing is written over',
  request: { params, ...jsonBody(keepRequest) },
  responses: answers(kept, 'Where it is now.'),
});

/** The routes by which recordings come in. */
export function uploadRoutes(context: ServerContext, keeping: Keeping): OpenAPIHono {
  const { folder, uploads } = context;
  const routes = router();

  const view = async (c: Context, file: WaitingFile, options: ReadOptionsView): Promise<UploadView> => {
    const { id, bytes, sha256 } = file;
    const experiment = await experimentIn(folder);
    return {
      id,
      bytes,
      sha256,
      ...(await understand(file, options)),
      place: experiment === null ? null : placeByName(experiment, file.name),
      sameAs: await keeping.sameAs(callerOf(c), bytes, sha256),
    };
  };

  const waiting = async (c: Context, id: string): Promise<WaitingFile> => {
    const file = await uploads.find(id);
    if (file !== null && isOwn(callerOf(c), file.owner)) return file;
    throw new RequestProblem(
      'unknown-upload',
      'This file is not waiting here: it was kept already, or a day has passed.',
      'Choose the file again.',
    );
  };

  routes.openapi(take, async (c) => {
    const { name } = c.req.valid('query');
    return c.json(await view(c, await takeIn(c, name, context), {}), 200);
  });

  routes.openapi(readAgain, async (c) => {
    const file = await waiting(c, c.req.valid('param').id);
    return c.json(await view(c, file, c.req.valid('json').options), 200);
  });

  routes.openapi(keep, async (c) => {
    const { id } = c.req.valid('param');
    // The answer to the first time may have been lost.
    const before = await uploads.placeOf(id);
    if (before !== null && isOwn(callerOf(c), before.owner))
      return c.json({ path: before.path, again: true }, 200);
    const { place, reading } = c.req.valid('json');
    return c.json(await keeping.keep(c, await waiting(c, id), place, reading), 200);
  });
  return routes;
}
