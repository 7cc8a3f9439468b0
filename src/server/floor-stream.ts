import type { Context } from 'hono';
import type { FloorNow } from '../floor/index.ts';
import type { ServerContext } from './context.ts';
import { problemResponse, RequestProblem } from './problem.ts';

/** Something comes this often, so that a page finds a connection that is gone, ms. */
const heartbeat = 10_000;
/** A browser takes one for all its windows. */
const mostListeners = 100;
/** So many events may wait for a reader; what changes meanwhile goes with the next. */
const mostWaiting = 4;

/** What somebody who watches the floor is told. */
export interface FloorTelling {
  /**
   * @param due codes of the benches whose tiles are not as this reader knows them
   * @returns the event, or null where nothing of it is for this reader
   */
  readonly event: (now: FloorNow, due: ReadonlySet<string>) => Uint8Array | null;
  /**
   * What else is told, for as long as somebody listens.
   *
   * @param send gives an event to the reader; false where it takes none now
   * @returns ends it
   */
  readonly besides?: (send: (event: Uint8Array) => boolean) => () => void;
}

/** Opens a stream of the floor for a reader, by what that reader may be told. */
export type FloorStreams = (c: Context, telling: FloorTelling) => Response | Promise<Response>;

const encoder = new TextEncoder();

/** An event as server-sent events have it (HTML Living Standard, 9.2). */
export function eventBytes(name: string, data: unknown): Uint8Array {
  return encoder.encode(`event: ${name}\ndata: ${JSON.stringify(data)}\n\n`);
}

/** Makes an event of one state of the floor once for all readers who are told the same of it. */
type SharedEvents = (now: FloorNow, key: string, make: () => Uint8Array) => Uint8Array;

/** Events go with the state of the floor that they are made of. */
export function sharedEvents(): SharedEvents {
  const made = new WeakMap<FloorNow, Map<string, Uint8Array>>();
  return (now, key, make) => {
    const ofNow = made.get(now) ?? new Map<string, Uint8Array>();
    made.set(now, ofNow);
    const event = ofNow.get(key) ?? make();
    ofNow.set(key, event);
    return event;
  };
}

const hereEvent = eventBytes('here', {});
const retryLine = encoder.encode('retry: 2000\n\n');

/** Streams of one floor, a hundred at most; a reader that takes nothing is told less often, and piles nothing up. */
export function floorStreams({ floor, log }: Pick<ServerContext, 'floor' | 'log'>): FloorStreams {
  let listeners = 0;
  return (c, { event, besides }) => {
    if (listeners >= mostListeners) {
      return problemResponse(
        c,
        new RequestProblem('unfit', 'Too many pages listen already.', 'Close some of them.'),
      );
    }
    listeners += 1;
    const due = new Set<string>();
    let here = true;
    let end = () => {};
    const stream = new ReadableStream<Uint8Array>({
      start: async (controller) => {
        const takes = () => here && (controller.desiredSize ?? 0) > -mostWaiting;
        const send = (told: Uint8Array) => {
          if (!takes()) return false;
          controller.enqueue(told);
          return true;
        };
        const tell = (now: FloorNow, changed: readonly string[]) => {
          for (const bench of changed) due.add(bench);
          if (!takes()) return;
          const told = event(now, due);
          due.clear();
          if (told !== null) send(told);
        };
        const timer = setInterval(() => send(hereEvent), heartbeat);
        timer.unref();
        const stops: (() => void)[] = [];
        end = () => {
          if (!here) return;
          here = false;
          listeners -= 1;
          clearInterval(timer);
          for (const stop of stops) stop();
        };
        controller.enqueue(retryLine);
        if (besides !== undefined) stops.push(besides(send));
        try {
          const ended = await floor.listen((now, changed) => {
            if (here) tell(now, changed);
          });
          // Whoever went away while the floor was opened hears nothing of it.
          if (here) stops.push(ended);
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
  };
}
