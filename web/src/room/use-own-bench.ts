import { useEffect, useState } from 'react';
import type { MineNow } from '../../../src/server/contract/index.ts';
import { steadyEvents } from '../api/steady-events.ts';

/** The bench as it was heard last. */
export interface OwnBench {
  readonly now: MineNow | null;
  /** Time of day from which on nothing was heard; null while the connection holds. */
  readonly lostSince: string | null;
}

/**
 * Listens to the group's bench for as long as the page is there, and connects again by itself.
 *
 * @param changed told where the group's recordings or the release are not as they were
 */
export function useOwnBench(changed: () => void): OwnBench {
  const [state, setState] = useState<OwnBench>({ now: null, lostSince: null });
  useEffect(() => {
    let missed = false;
    return steadyEvents(
      '/api/mine/events',
      {
        mine: changed,
        // The contract is checked where events are made: both ends come from one build.
        now: (data) => setState({ now: JSON.parse(data) as MineNow, lostSince: null }),
      },
      (heardAt) => {
        missed = true;
        setState(({ now, lostSince }) => ({ now, lostSince: lostSince ?? timeOfDay(heardAt) }));
      },
      () => {
        // What happened meanwhile was not told.
        if (missed) changed();
        missed = false;
      },
    );
  }, [changed]);
  return state;
}

function timeOfDay(at: number): string {
  return new Date(at).toTimeString().slice(0, 8);
}
