import { createRoute, type OpenAPIHono, z } from '@hono/zod-openapi';
import type { FloorNow } from '../floor/index.ts';
import type { ServerContext } from './context.ts';
import { floorView } from './contract/index.ts';
import { floorViewOf } from './floor-view.ts';
import { problemResponse, RequestProblem } from './problem.ts';
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

/** Something comes this often, so that a page finds a connection that is gone, ms. */
const heartbeat = 10_000;
/** A browser takes one for all its windows. */
const mostListeners = 100;
/** So many events may wait for a reader; what changes meanwhile goes with the next. */
const mostWaiting = 4;

/** The routes of the bench floor. */
export function floorRoutes({ floor, log }: ServerContext): OpenAPIHono {
  const routes = router();
  let listeners = 0;

  routes.openapi(look, async (c) => c.json(floorViewOf(await floor.now()), 200));

  routes.openapi(events, (c) => {
    if (listeners >= mostListeners) {
      return problemResponse(
        c,
        new RequestProblem('unfit', 'Too many pages listen already.', 'Close some of them.'),
      );
    }
    listeners += 1;
    const encoder = new TextEncoder();
    const due = new Set<string>();
    let here = true;
    let end = () => {};
    const stream = new ReadableStream<Uint8Array>({
      start: async (controller) => {
        const send = (text: string) => controller.enqueue(encoder.encode(text));
        const takes = () => (controller.desiredSize ?? 0) > -mostWaiting;
        const tell = (now: FloorNow, changed: readonly string[]) => {
          for (const bench of changed) due.add(bench);
          if (!takes()) return;
          send(`event: floor\ndata: ${JSON.stringify(floorViewOf(now, due))}\n\n`);
          due.clear();
        };
        const timer = setInterval(() => {
          if (takes()) send('event: here\ndata: {}\n\n');
        }, heartbeat);
        timer.unref();
        let stop = () => {};
        end = () => {
          if (!here) return;
          here = false;
          listeners -= 1;
          clearInterval(timer);
          stop();
        };
        send('retry: 2000\n\n');
        try {
          const ended = await floor.listen((now, changed) => {
            if (here) tell(now, changed);
          });
          // Whoever went away while the floor was opened hears nothing of it.
          if (here) stop = ended;
          else ended();
        } catch (error) {
          log(`The benches cannot be watched: ${error instanceof Error ? error.stack : String(error)}`);
          if (here) controller.close();
          end();
        }
      },
      cancel: () => end(),
    });
    return c.body(stream, 200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
  });
  return routes;
}
