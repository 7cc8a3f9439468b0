import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import type { ServerContext } from './context.ts';
import { classQuery, classView } from './contract/index.ts';
import { answers, router } from './routing.ts';

const roll = createRoute({
  method: 'get',
  path: '/api/class',
  summary: 'The class rolled up: who is asked to look again, how groups scatter, and what by',
  request: { query: classQuery },
  responses: answers(
    classView,
    'Times in s, spreads as standard deviations of ln tau; groups by their codes.',
  ),
});

/** The route of the class. */
export function classRoutes({ recordings }: ServerContext): OpenAPIHono {
  const routes = router();
  routes.openapi(roll, async (c) => {
    return c.json(await recordings.classOf(c.req.valid('query').section ?? null), 200);
  });
  return routes;
}
