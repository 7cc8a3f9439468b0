import { inOneWindow } from './one-connection.ts';

/** What the server tells; `missed`: something may have happened that was not heard. */
export type ServerWord = 'progress' | 'recordings' | 'experiment' | 'rig' | 'missed';

const words: readonly ServerWord[] = ['progress', 'recordings', 'experiment', 'rig'];

/** Name of the lock of the window that listens, and of the channel by which it tells the others. */
const shared = 'emberline-events';

/**
 * Listens to the server. Of all windows of a browser one holds the connection and tells the others.
 *
 * @returns ends the listening
 */
export function listenToServer(hear: (word: ServerWord) => void): () => void {
  const channel = new BroadcastChannel(shared);
  channel.onmessage = ({ data }: MessageEvent<ServerWord>) => hear(data);

  const hold = (signal: AbortSignal, waited: boolean) =>
    new Promise<void>((resolve) => {
      if (signal.aborted) return resolve();
      const source = new EventSource('/api/events');
      const tell = (word: ServerWord) => {
        hear(word);
        channel.postMessage(word);
      };
      let missed = waited;
      source.onerror = () => {
        missed = true;
      };
      source.onopen = () => {
        if (missed) tell('missed');
        missed = false;
      };
      for (const word of words) source.addEventListener(word, () => tell(word));
      signal.addEventListener('abort', () => {
        source.close();
        resolve();
      });
    });

  const end = inOneWindow(shared, hold);
  return () => {
    end();
    channel.close();
  };
}
