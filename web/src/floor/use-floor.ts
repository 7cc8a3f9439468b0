import { useEffect, useRef, useState } from 'react';
import type { CallView, FloorView } from '../../../src/server/contract/index.ts';
import { type Heard, listenToFloor } from './floor-events.ts';
import { openSound, type Sound } from './sound.ts';
import { isUrgent, newCalls, type Urgencies, urgenciesOf } from './urgent.ts';

/** The floor, for as long as its place is open. */
export function useFloor(): Heard {
  const [heard, setHeard] = useState<Heard>({ view: null, lostSince: null });
  useEffect(() => listenToFloor(setHeard), []);
  return heard;
}

/** Calls that have come with the latest news; those that were there at first are new once. */
export function useNewCalls(view: FloorView | null): readonly CallView[] {
  const before = useRef<Urgencies>(new Map());
  const [fresh, setFresh] = useState<readonly CallView[]>([]);
  useEffect(() => {
    if (view === null) return;
    const found = newCalls(before.current, view.calls);
    before.current = urgenciesOf(view.calls);
    if (found.length > 0) setFresh(found);
  }, [view]);
  return fresh;
}

/** A tone for new urgent calls, off until it is asked for. */
export function useSound(fresh: readonly CallView[]): { readonly on: boolean; readonly change: () => void } {
  const sound = useRef<Sound | null>(null);
  const [on, setOn] = useState(false);
  useEffect(() => {
    if (fresh.some(isUrgent)) sound.current?.ring();
  }, [fresh]);
  useEffect(() => () => sound.current?.close(), []);
  const change = () => {
    sound.current?.close();
    sound.current = on ? null : openSound();
    // Whoever turns it on hears what it is like.
    sound.current?.ring();
    setOn(!on);
  };
  return { on, change };
}
