import { createRoute, type OpenAPIHono, z } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { callerOf } from './access/caller.ts';
import type { ServerContext } from './context.ts';
import { floorView } from './contract/index.ts';
import { displayFloorViewOf } from './floor-display.ts';
import { eventBytes, type FloorTelling, floorStreams, sharedEvents } from './floor-stream.ts';
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
  routes.openapi(look, async (c) => {
    const view = isDisplay(c) ? displayFloorViewOf : floorViewOf;
    return c.json(view(await floor.now()), 200);
  });
  const tellings = { staff: tellingOf(floorViewOf), display: tellingOf(displayFloorViewOf) };
  routes.openapi(events, (c) => streams(c, isDisplay(c) ? tellings.display : tellings.staff));
  return routes;
}

/** What all who may see the same form of the floor are told: those who are up to date, the same event. */
function tellingOf(view: typeof floorViewOf): FloorTelling {
  const shared = sharedEvents();
  return {
    event: (now, due) =>
      shared(now, JSON.stringify([...due].toSorted()), () => eventBytes('floor', view(now, due))),
  };
}

/** Whether a display asks: it stands where everybody reads it. */
function isDisplay(c: Context): boolean {
  return callerOf(c).role === 'display';
}
