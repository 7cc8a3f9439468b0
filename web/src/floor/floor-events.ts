import type { FloorView } from '../../../src/server/contract/index.ts';
import { inOneWindow } from '../api/one-connection.ts';
import { steadyEvents } from '../api/steady-events.ts';
import { merged } from './merge.ts';

/** The floor as it was heard last, and whether more is heard. */
export interface Heard {
  readonly view: FloorView | null;
  /** ms since 1970 (UTC); null while the connection holds, or is opened for the first time. */
  readonly lostSince: number | null;
}

/** Name of the lock of the window that listens, and of the channel by which it tells the others. */
const shared = 'emberline-floor';

/**
 * Listens to the bench floor. Of all windows of a browser one holds the connection and tells the others. It connects
 * again by itself.
 *
 * @returns ends the listening
 */
export function listenToFloor(hear: (heard: Heard) => void): () => void {
  let state: Heard = { view: null, lostSince: null };
  let holding = false;
  const channel = new BroadcastChannel(shared);
  channel.onmessage = ({ data }: MessageEvent<Heard | 'hello'>) => {
    if (data !== 'hello') take(data);
    else if (holding) channel.postMessage(state);
  };
  const take = (next: Heard) => {
    state = next;
    hear(next);
  };
  const tell = (next: Heard) => {
    take(next);
    channel.postMessage(next);
  };

  const hold = (signal: AbortSignal) =>
    new Promise<void>((resolve) => {
      if (signal.aborted) return resolve();
      holding = true;
      const leave = steadyEvents(
        '/api/floor/events',
        {
          // The contract is checked where events are made: both ends come from one build.
          floor: (data) => tell({ view: merged(state.view, JSON.parse(data) as FloorView), lostSince: null }),
        },
        () => {
          if (state.lostSince === null) tell({ ...state, lostSince: Date.now() });
        },
      );
      signal.addEventListener('abort', () => {
        holding = false;
        leave();
        resolve();
      });
    });

  const end = inOneWindow(shared, hold);
  channel.postMessage('hello');
  return () => {
    end();
    channel.close();
  };
}
