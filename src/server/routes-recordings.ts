import { createRoute, type OpenAPIHono, z } from '@hono/zod-openapi';
import type { ServerContext } from './context.ts';
import {
  comparisonQuery,
  comparisonView,
  decision,
  decisionRequest,
  detail,
  marks,
  readings,
  readOptions,
  recordingList,
  recordingReading,
  steps,
} from './contract/index.ts';
import { RequestProblem } from './problem.ts';
import { record } from './record.ts';
import { answers, jsonBody, recordingParams, router } from './routing.ts';

const one = '/api/recordings/:path{.+}';

const list = createRoute({
  method: 'get',
  path: '/api/recordings',
  summary: 'All recordings of the folder, as far as they are analyzed',
  responses: answers(recordingList, 'A summary of each, and how far the work is.'),
});

const analysis = createRoute({
  method: 'get',
  path: `${one}/analysis`,
  summary: 'Everything about one recording',
  request: { params: recordingParams },
  responses: answers(detail, 'Times in s, temperatures in °C, differences in K.'),
});

const preview = createRoute({
  method: 'post',
  path: `${one}/preview`,
  summary: 'What one recording would say with other marks; nothing is kept',
  request: { params: recordingParams, ...jsonBody(z.object({ marks })) },
  responses: answers(detail, 'As the analysis, by these marks.'),
});

const reading = createRoute({
  method: 'post',
  path: `${one}/reading`,
  summary: 'How the file of one recording is read, by other options than those that count; nothing is kept',
  request: {
    params: recordingParams,
    ...jsonBody(z.object({ options: readOptions.nullable().describe('Null for those that count now.') })),
  },
  responses: answers(recordingReading, 'What was understood or is in the way, first rows, and decisions.'),
});

const decide = createRoute({
  method: 'post',
  path: `${one}/decisions`,
  summary: 'Keep what a person decides about a recording, with who and why',
  request: { params: recordingParams, ...jsonBody(decisionRequest) },
  responses: answers(z.array(decision), 'All decisions about this recording, the oldest first.'),
});

const time = z.coerce.number().min(-1e9).max(1e9);

const stretch = createRoute({
  method: 'get',
  path: `${one}/readings`,
  summary: 'The readings of a stretch of a recording',
  request: {
    params: recordingParams,
    query: z.object({
      from: time.describe('s from the first sample'),
      to: time.describe('s from the first sample'),
      points: z.coerce.number().int().min(1).max(20_000).describe('most points in the answer'),
    }),
  },
  responses: answers(readings, 'Single readings where they are few enough, else thinned.'),
});

const worked = createRoute({
  method: 'get',
  path: `${one}/steps`,
  summary: 'The analysis of one recording, step by step, with its numbers',
  request: { params: recordingParams },
  responses: answers(steps, 'Formulas as MathML.'),
});

const compare = createRoute({
  method: 'get',
  path: '/api/compare',
  summary: 'Measured against predicted time constants, and their trends',
  request: { query: comparisonQuery },
  responses: answers(comparisonView, 'A row a condition.'),
});

/** The routes of recordings and of their comparison. */
export function recordingRoutes({ recordings, trail }: ServerContext): OpenAPIHono {
  const routes = router();
  routes.openapi(list, async (c) => c.json(await recordings.list(), 200));
  routes.openapi(compare, async (c) => {
    return c.json(await recordings.comparison(c.req.valid('query').group ?? []), 200);
  });
  routes.openapi(analysis, async (c) => {
    return c.json(known(await recordings.detail(c.req.valid('param').path)), 200);
  });
  routes.openapi(preview, async (c) => {
    const { path } = c.req.valid('param');
    return c.json(known(await recordings.preview(path, c.req.valid('json').marks)), 200);
  });
  routes.openapi(reading, async (c) => {
    const { path } = c.req.valid('param');
    return c.json(known(await recordings.reading(path, c.req.valid('json').options)), 200);
  });
  routes.openapi(decide, async (c) => {
    const { path } = c.req.valid('param');
    const request = c.req.valid('json');
    const decided = await recordings.decide(path, request, ({ id, sha256 }) => {
      const what = request.kind === 'undo' ? `takes ${request.undoes} back` : request.kind;
      const note = `${id}: ${what}, signed ${request.who}`;
      return record(trail, c, { deed: 'decided', about: path, sha256, note });
    });
    return c.json(known(decided), 200);
  });
  routes.openapi(stretch, async (c) => {
    const { from, to, points } = c.req.valid('query');
    if (from > to) {
      throw new RequestProblem(
        'bad-request',
        'The stretch ends before it begins.',
        'Give from and to in s, the earlier one first.',
      );
    }
    return c.json(known(await recordings.readings(c.req.valid('param').path, from, to, points)), 200);
  });
  routes.openapi(worked, async (c) => c.json(known(await recordings.steps(c.req.valid('param').path)), 200));
  return routes;
}

function known<T>(found: T | null): T {
  if (found !== null) return found;
  throw new RequestProblem(
    'unknown-recording',
    'There is no recording of this path in the experiment folder.',
    'Go back to the experiment and choose one of its recordings.',
  );
}
