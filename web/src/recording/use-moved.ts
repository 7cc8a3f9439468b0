/** Marks that are being moved and the stretch in view: held here at once, and in the address a little later. */
import { useCallback, useEffect, useRef, useState } from 'react';
import type { Marks, Span } from '../../../src/server/contract/index.ts';
import { type Addressed, readAddress, writeAddress } from './marks.ts';
import { forget, stash, stashed } from './unwritten.ts';

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
  const [state, setState] = useState(() => readAddress(stashed() ?? window.location.search));
  const had = useRef(state.moved !== null);
  /** What the address does not say yet. */
  const unwritten = useRef<Addressed | null>(null);
  useEffect(() => {
    // What was kept or put back must not come up again as unkept when the page is reloaded at once.
    const cleared = had.current && state.moved === null;
    had.current = state.moved !== null;
    unwritten.current = addressOf(state) === null ? null : state;
    if (unwritten.current === null) return;
    const write = () => {
      unwritten.current = null;
      const now = addressOf(state);
      if (now !== null) window.history.replaceState(window.history.state, '', now);
    };
    const timer = setTimeout(write, cleared ? 0 : rest);
    return () => clearTimeout(timer);
  }, [state]);
  useEffect(() => {
    forget();
    const { pathname, search } = window.location;
    // The address of a page that is reloaded can no longer be changed when the page hears of it.
    const leave = () => {
      if (unwritten.current !== null) stash(pathname, writeAddress(search, unwritten.current));
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
