import type { FloorView } from '../../../src/server/contract/index.ts';
import { inOneWindow } from '../api/one-connection.ts';
import { merged } from './merge.ts';

/** The floor as it was heard last, and whether more is heard. */
export interface Heard {
  readonly view: FloorView | null;
  /** ms since 1970 (UTC); null while the connection holds, or is opened for the first time. */
  readonly lostSince: number | null;
}

/** Name of the lock of the window that listens, and of the channel by which it tells the others. */
const shared = 'emberline-floor';

/** The server says something every ten seconds at least; after so long without, the connection is gone, ms. */
const silence = 25_000;
const checkEvery = 3000;

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
      let heardAt = Date.now();
      const lost = () => {
        if (state.lostSince === null) tell({ ...state, lostSince: Date.now() });
      };
      const connect = () => {
        heardAt = Date.now();
        const opened = new EventSource('/api/floor/events');
        opened.onerror = lost;
        opened.addEventListener('here', () => {
          heardAt = Date.now();
        });
        opened.addEventListener('floor', ({ data }: MessageEvent<string>) => {
          heardAt = Date.now();
          // The contract is checked where events are made: both ends come from one build.
          tell({ view: merged(state.view, JSON.parse(data) as FloorView), lostSince: null });
        });
        return opened;
      };
      let source = connect();
      const timer = setInterval(() => {
        if (source.readyState !== EventSource.CLOSED && Date.now() - heardAt < silence) return;
        lost();
        source.close();
        source = connect();
      }, checkEvery);
      signal.addEventListener('abort', () => {
        holding = false;
        clearInterval(timer);
        source.close();
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
