import { createRoute, type OpenAPIHono, z } from '@hono/zod-openapi';
import type { Experiment, NamedPlace } from '../experiment/index.ts';
import { type Caller, callerOf } from './access/caller.ts';
import type { ServerContext } from './context.ts';
import { type HandedInView, handedIn, knownBytes } from './contract/index.ts';
import { type Keeping, wholeExperiment } from './keeping.ts';
import { placeByName } from './place-by-name.ts';
import { RequestProblem } from './problem.ts';
import { answers, router } from './routing.ts';
import { takeIn } from './take-in.ts';
import { understand } from './understanding.ts';

const code = z.string().min(1).max(100).optional();
const hash = z.string().regex(/^[0-9a-fA-F]{64}$/, { error: 'write SHA-256 as 64 hexadecimal digits' });

const known = createRoute({
  method: 'get',
  path: '/api/handed-in',
  summary: 'Whether a file is among the recordings already, by its hash',
  request: { query: z.object({ bytes: z.coerce.number().int().min(0), sha256: hash }) },
  responses: answers(knownBytes, 'Its path; null where it is not there.'),
});

const hand = createRoute({
  method: 'put',
  path: '/api/handed-in/{name}',
  summary: 'Hand a recording in at one stroke; its bytes are the body',
  request: {
    params: z.object({ name: z.string().min(1).max(300).describe('Its name, which may say its place.') }),
    query: z.object({
      section: code,
      group: code,
      bench: code,
      body: code,
      flow: code,
      repeat: z.coerce.number().int().min(1).max(99).optional(),
      sha256: hash.optional().describe('What its bytes must have; otherwise nothing is kept.'),
      unread: z.enum(['keep']).optional().describe('Keeps also what cannot be read by itself.'),
    }),
    body: { content: { 'application/octet-stream': { schema: z.string().meta({ format: 'binary' }) } } },
  },
  responses: answers(handedIn, 'Where it is, and how it was understood.'),
});

/** The routes by which a bench without a browser hands a recording in. */
export function handedInRoutes(context: ServerContext, keeping: Keeping): OpenAPIHono {
  const { folder, uploads } = context;
  const routes = router();

  routes.openapi(known, async (c) => {
    const { bytes, sha256 } = c.req.valid('query');
    return c.json({ path: await keeping.sameAs(callerOf(c), bytes, sha256.toLowerCase()) }, 200);
  });

  routes.openapi(hand, async (c) => {
    const { name } = c.req.valid('param');
    const { sha256, unread, ...said } = c.req.valid('query');
    const caller = callerOf(c);
    const place = placeOf(await wholeExperiment(folder), caller, name, said);
    await keeping.pathFor(caller, place, name);
    const file = await takeIn(c, name, context);
    try {
      if (sha256 !== undefined && sha256.toLowerCase() !== file.sha256) throw wrongHash(file.sha256);
      const { understood, trouble } = await understand(file, {});
      if (trouble !== null && unread !== 'keep') {
        const line = trouble.line === null ? '' : `Line ${trouble.line}: `;
        throw new RequestProblem(
          'unreadable',
          `${line}${trouble.message} Nothing was kept.`,
          `${trouble.mend} To hand it in as it is, and say on the page how it is to be read, add unread=keep to the address.`,
        );
      }
      const { path, again } = await keeping.keep(c, file, place, undefined);
      return c.json(
        answerOf({ path, again, bytes: file.bytes, sha256: file.sha256 }, understood?.remarks ?? [], trouble),
        200,
      );
    } catch (error) {
      await uploads.leaveOut(file.id);
      throw error;
    }
  });
  return routes;
}

type Remarks = HandedInView['remarks'];

function answerOf(
  kept: Pick<HandedInView, 'path' | 'again' | 'bytes' | 'sha256'>,
  remarks: Remarks,
  trouble: { readonly message: string; readonly mend: string } | null,
): HandedInView {
  return {
    ...kept,
    readable: trouble === null,
    detail: `${kept.again ? 'The same file is there already' : 'Kept'} as ${kept.path}.${trouble === null ? '' : ` ${trouble.message}`}`,
    mend: trouble?.mend ?? null,
    remarks: remarks.filter(({ severity }) => severity !== 'note'),
  };
}

/** What was said of the place, over what the name says. */
function placeOf(
  experiment: Experiment,
  caller: Caller,
  name: string,
  said: { readonly [K in keyof NamedPlace]?: NamedPlace[K] | undefined },
): NamedPlace {
  const named = placeByName(experiment, name);
  const body = said.body ?? named?.body ?? null;
  const flow = said.flow ?? named?.flow ?? null;
  const group = said.group ?? named?.group ?? caller.group;
  if (body === null || flow === null) {
    const missing = [...(body === null ? ['body'] : []), ...(flow === null ? ['flow'] : [])];
    const codes = missing.map(
      (one) =>
        `${one} one of ${Object.keys(one === 'body' ? experiment.bodies : experiment.flows).join(', ')}`,
    );
    throw new RequestProblem(
      'unfit',
      `The name ${JSON.stringify(name.slice(0, 100))} does not say the ${missing.join(' and the ')}.`,
      `Say it in the address, as ?body=…&flow=…&repeat=…: ${codes.join('; ')}.`.slice(0, 1000),
    );
  }
  return {
    section: said.section,
    ...(group === null ? {} : { group }),
    bench: said.bench,
    body,
    flow,
    repeat: said.repeat ?? named?.repeat ?? undefined,
  };
}

function wrongHash(found: string): RequestProblem {
  return new RequestProblem(
    'wrong-hash',
    `What arrived has the SHA-256 ${found}, which is another one. Nothing was kept.`,
    'Send it once more; if it happens again, the file changes while it is read.',
  );
}
