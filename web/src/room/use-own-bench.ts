import { useEffect, useState } from 'react';
import type { MineNow } from '../../../src/server/contract/index.ts';

/** The bench as it was heard last. */
export interface OwnBench {
  readonly now: MineNow | null;
  /** Time of day from which on nothing was heard; null while the connection holds. */
  readonly lostSince: string | null;
}

/** The server says something every ten seconds at least; after so long without, the connection is gone, ms. */
const silence = 25_000;
const checkEvery = 3000;

/**
 * Listens to the group's bench for as long as the page is there, and connects again by itself.
 *
 * @param changed told where the group's recordings or the release are not as they were
 */
export function useOwnBench(changed: () => void): OwnBench {
  const [state, setState] = useState<OwnBench>({ now: null, lostSince: null });
  useEffect(() => {
    let heardAt = Date.now();
    let missed = false;
    const lost = () => {
      missed = true;
      setState(({ now, lostSince }) => ({ now, lostSince: lostSince ?? timeOfDay(heardAt) }));
    };
    const hear = () => {
      heardAt = Date.now();
      // What happened meanwhile was not told.
      if (missed) changed();
      missed = false;
    };
    const connect = () => {
      const opened = new EventSource('/api/mine/events');
      opened.onerror = lost;
      opened.addEventListener('here', hear);
      opened.addEventListener('mine', () => {
        hear();
        changed();
      });
      opened.addEventListener('now', ({ data }: MessageEvent<string>) => {
        hear();
        // The contract is checked where events are made: both ends come from one build.
        setState({ now: JSON.parse(data) as MineNow, lostSince: null });
      });
      return opened;
    };
    let source = connect();
    const timer = setInterval(() => {
      if (source.readyState !== EventSource.CLOSED && Date.now() - heardAt < silence) return;
      lost();
      source.close();
      source = connect();
      heardAt = Date.now();
    }, checkEvery);
    return () => {
      clearInterval(timer);
      source.close();
    };
  }, [changed]);
  return state;
}

function timeOfDay(at: number): string {
  return new Date(at).toTimeString().slice(0, 8);
}
