import { createRoute, type OpenAPIHono, z } from '@hono/zod-openapi';
import type { ServerContext } from './context.ts';
import { problemResponse, RequestProblem } from './problem.ts';
import type { FolderEvent } from './recordings.ts';
import { router } from './routing.ts';

const events = createRoute({
  method: 'get',
  path: '/api/events',
  summary: 'Says when something in the folder changes, for as long as somebody listens',
  responses: {
    200: {
      description:
        'Server-sent events: `progress` with { done, total } while recordings are analyzed, `recordings`, `experiment` and `rig` when they change; `recordings` too when sheets of groups do.',
      content: { 'text/event-stream': { schema: z.string() } },
    },
  },
});

/** A comment this often keeps connections open and finds those that are gone, ms. */
const heartbeat = 15_000;
/** A browser window takes one each. */
const mostListeners = 100;

/** The route that tells the page what changes. */
export function eventRoutes({ recordings }: ServerContext): OpenAPIHono {
  const routes = router();
  let listeners = 0;
  routes.openapi(events, (c) => {
    if (listeners >= mostListeners) {
      return problemResponse(
        c,
        new RequestProblem('unfit', 'Too many pages listen already.', 'Close some of them.'),
      );
    }
    listeners += 1;
    const encoder = new TextEncoder();
    let end = () => {};
    const stream = new ReadableStream<Uint8Array>({
      start: (controller) => {
        const send = (text: string) => {
          // A reader that takes nothing any more must not pile up memory here.
          if ((controller.desiredSize ?? 0) > -64) controller.enqueue(encoder.encode(text));
        };
        const stop = recordings.listen((event) => send(asText(event)));
        const timer = setInterval(() => send(': still here\n\n'), heartbeat);
        timer.unref();
        end = () => {
          end = () => {};
          listeners -= 1;
          clearInterval(timer);
          stop();
        };
        send('retry: 2000\n\n');
      },
      cancel: () => end(),
    });
    return c.body(stream, 200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
  });
  return routes;
}

function asText({ kind, done, total }: FolderEvent): string {
  return `event: ${kind}\ndata: ${JSON.stringify({ done, total })}\n\n`;
}
