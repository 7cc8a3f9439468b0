/** Marks that are being moved and the stretch in view: held here at once, and in the address a little later. */
import { useCallback, useEffect, useRef, useState } from 'react';
import type { Marks, Span } from '../../../src/server/contract/index.ts';
import { readAddress, writeAddress } from './marks.ts';

/** How long marks and view rest before they are written into the address, ms: browsers allow it only so often. */
const rest = 250;

export interface Moved {
  /** Marks as moved and not yet kept; null where none were moved. */
  readonly moved: Marks | null;
  readonly setMoved: (marks: Marks | null) => void;
  /** The stretch in view; null for the whole recording. */
  readonly view: Span | null;
  readonly setView: (change: (view: Span | null) => Span | null) => void;
}

export function useMoved(): Moved {
  const [state, setState] = useState(() => readAddress(window.location.search));
  const had = useRef(state.moved !== null);
  useEffect(() => {
    // What was kept or put back must not come up again as unkept when the page is reloaded at once.
    const cleared = had.current && state.moved === null;
    had.current = state.moved !== null;
    const write = () => {
      const { pathname, search, hash } = window.location;
      const next = writeAddress(search, state);
      const address = `${pathname}${next === '' ? '' : `?${next}`}${hash}`;
      if (address !== `${pathname}${search}${hash}`) {
        window.history.replaceState(window.history.state, '', address);
      }
    };
    const timer = setTimeout(write, cleared ? 0 : rest);
    return () => clearTimeout(timer);
  }, [state]);
  const setMoved = useCallback((moved: Marks | null) => setState((s) => ({ ...s, moved })), []);
  const setView = useCallback(
    (change: (view: Span | null) => Span | null) => setState((s) => ({ ...s, view: change(s.view) })),
    [],
  );
  return { moved: state.moved, setMoved, view: state.view, setView };
}
