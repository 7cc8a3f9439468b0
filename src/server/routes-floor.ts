import { createRoute, type OpenAPIHono, z } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { callerOf } from './access/caller.ts';
import type { ServerContext } from './context.ts';
import { floorView } from './contract/index.ts';
import { displayFloorViewOf } from './floor-display.ts';
import { eventText, floorStreams } from './floor-stream.ts';
import { floorViewOf } from './floor-view.ts';
import { answers, router } from './routing.ts';

const look = createRoute({
  method: 'get',
  path: '/api/floor',
  summary: 'All benches as they are now',
  responses: answers(floorView, 'A tile for each bench, whom to walk to, and the session against its plan.'),
});

const events = createRoute({
  method: 'get',
  path: '/api/floor/events',
  summary: 'Watches the benches, for as long as somebody listens',
  responses: {
    200: {
      description:
        'Server-sent events: `floor` with what GET /api/floor answers, at first with all tiles, then with those that are not as they were, at most twice a second; `here` now and then, where nothing happens.',
      content: { 'text/event-stream': { schema: z.string() } },
    },
  },
});

/** The routes of the bench floor. */
export function floorRoutes(context: ServerContext): OpenAPIHono {
  const { floor } = context;
  const streams = floorStreams(context);
  const routes = router();
  routes.openapi(look, async (c) => c.json(viewFor(c)(await floor.now(), null), 200));
  routes.openapi(events, (c) => {
    const view = viewFor(c);
    return streams(c, { event: (now, due) => eventText('floor', view(now, due)) });
  });
  return routes;
}

/** The floor as whoever asks may see it: a display stands where everybody reads it. */
function viewFor(c: Context) {
  return callerOf(c).role === 'display' ? displayFloorViewOf : floorViewOf;
}
