import { useCallback, useEffect, useRef, useState } from 'react';

/** What was asked for: the last answer stays until there is a newer one. */
export interface Asked<T> {
  readonly data: T | null;
  readonly error: unknown;
  /** Asks once more. */
  readonly again: () => void;
  /** Takes an answer that came by another way. */
  readonly take: (data: T) => void;
}

/** Asks when the page is drawn and when it is told to; of several answers the one that was asked for last counts. */
export function useAsked<T>(ask: () => Promise<T>): Asked<T> {
  const [state, setState] = useState<{ data: T | null; error: unknown }>({ data: null, error: null });
  const latest = useRef(0);
  const asked = useRef(ask);
  asked.current = ask;

  const again = useCallback(() => {
    latest.current += 1;
    const mine = latest.current;
    asked.current().then(
      (data) => {
        if (latest.current === mine) setState({ data, error: null });
      },
      (error: unknown) => {
        if (latest.current === mine) setState((before) => ({ ...before, error }));
      },
    );
  }, []);
  const take = useCallback((data: T) => {
    latest.current += 1;
    setState({ data, error: null });
  }, []);
  useEffect(() => {
    again();
    return () => {
      latest.current += 1;
    };
  }, [again]);
  return { ...state, again, take };
}

/** Something that a person does: whether it goes on, and what was in the way. */
export interface Deed<A> {
  readonly does: boolean;
  readonly error: unknown;
  readonly go: (what: A) => void;
  readonly forget: () => void;
}

/** @param done told what came of it */
export function useDeed<A, T>(act: (what: A) => Promise<T>, done: (result: T) => void): Deed<A> {
  const [state, setState] = useState<{ does: boolean; error: unknown }>({ does: false, error: null });
  const go = (what: A) => {
    if (state.does) return;
    setState({ does: true, error: null });
    act(what).then(
      (result) => {
        setState({ does: false, error: null });
        done(result);
      },
      (error: unknown) => setState({ does: false, error }),
    );
  };
  return { ...state, go, forget: () => setState({ does: false, error: null }) };
}
