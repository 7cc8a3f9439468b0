import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import { readTrailDay, StoreError, trailDays } from '../store/index.ts';
import type { ServerContext } from './context.ts';
import { trailQuery, trailView } from './contract/index.ts';
import { RequestProblem } from './problem.ts';
import { answers, router } from './routing.ts';

const read = createRoute({
  method: 'get',
  path: '/api/trail',
  summary: 'Who did what in the folder, on one day',
  request: { query: trailQuery },
  responses: answers(trailView, 'The days that there are, and the lines of one, the first first.'),
});

/** The routes of the trail. */
export function trailRoutes({ folder }: ServerContext): OpenAPIHono {
  const routes = router();
  routes.openapi(read, async (c) => {
    const days = await trailDays(folder);
    const day = c.req.valid('query').day ?? days.at(-1) ?? null;
    if (day === null) return c.json({ days: [], day, entries: [] }, 200);
    if (!days.includes(day)) {
      throw new RequestProblem('not-found', `There is no trail of ${day}.`, 'Take one of the days listed.');
    }
    const lines = await readTrailDay(folder, day).catch((error: unknown) => {
      if (!(error instanceof StoreError)) throw error;
      throw new RequestProblem('unfit', error.message, 'Look at it in the folder.');
    });
    const entries = lines.map(({ chain, ...line }) => line);
    return c.json({ days: [...days], day, entries }, 200);
  });
  return routes;
}
