/** Marks that are being moved and the stretch in view: held here at once, and in the address a little later. */
import { useCallback, useEffect, useRef, useState } from 'react';
import type { Marks, Span } from '../../../src/server/contract/index.ts';
import { type Addressed, readAddress, writeAddress } from './marks.ts';
import { forget, stash, stashed } from './unwritten.ts';

/** How long marks and view rest before they are written into the address, ms: browsers allow it only so often. */
const rest = 250;
/** Longest that it may take from asking for a reload to leaving the page, ms. */
const slowest = 5000;

export interface Moved {
  /** Marks as moved and not yet kept; null where none were moved. */
  readonly moved: Marks | null;
  readonly setMoved: (marks: Marks | null) => void;
  /** The stretch in view; null for the whole recording. */
  readonly view: Span | null;
  readonly setView: (change: (view: Span | null) => Span | null) => void;
}

export function useMoved(): Moved {
  const [state, setState] = useState(() => readAddress(stashed() ?? window.location.search));
  const had = useRef(state.moved !== null);
  /** What was changed last, and when, ms. */
  const changed = useRef<{ readonly to: Addressed; readonly at: number } | null>(null);
  useEffect(() => {
    // What was kept or put back must not come up again as unkept when the page is reloaded at once.
    const cleared = had.current && state.moved === null;
    had.current = state.moved !== null;
    if (addressOf(state) === null) return;
    changed.current = { to: state, at: performance.now() };
    const write = () => {
      const now = addressOf(state);
      if (now !== null) window.history.replaceState(window.history.state, '', now);
    };
    const timer = setTimeout(write, cleared ? 0 : rest);
    return () => clearTimeout(timer);
  }, [state]);
  useEffect(() => {
    forget();
    const { pathname, search } = window.location;
    // From the moment that a reload is asked for, the address can no longer be changed; the page hears of it later.
    const leave = () => {
      const last = changed.current;
      if (last === null || performance.now() - last.at > slowest) return;
      stash(pathname, writeAddress(search, last.to));
    };
    window.addEventListener('pagehide', leave);
    return () => {
      window.removeEventListener('pagehide', leave);
      leave();
    };
  }, []);
  const setMoved = useCallback((moved: Marks | null) => setState((s) => ({ ...s, moved })), []);
  const setView = useCallback(
    (change: (view: Span | null) => Span | null) => setState((s) => ({ ...s, view: change(s.view) })),
    [],
  );
  return { moved: state.moved, setMoved, view: state.view, setView };
}

/** The address that says marks and view; null where it does already. */
function addressOf(state: Addressed): string | null {
  const { pathname, search, hash } = window.location;
  const next = writeAddress(search, state);
  const address = `${pathname}${next === '' ? '' : `?${next}`}${hash}`;
  return address === `${pathname}${search}${hash}` ? null : address;
}
