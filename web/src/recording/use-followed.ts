/** The result by marks that are being moved: one question at a time, always followed by the newest. */
import { useEffect, useState } from 'react';
import type { Detail, Marks } from '../../../src/server/contract/index.ts';
import { usePreview } from '../api/queries.ts';
import { sameMarks } from './marks.ts';

/** An answer that takes longer than this is given up for the marks as they are by then, ms. */
const patience = 250;

export interface Followed {
  readonly detail: Detail | null;
  readonly error: unknown;
  /** Whether the result shown is by the marks as they stand. */
  readonly current: boolean;
}

/**
 * Asks for the result by marks. A question that were given up at every movement would never be answered while a
 * mark is moved; so the next is asked when the answer is there, by the marks as they are then.
 */
export function useFollowed(path: string, moved: Marks | null): Followed {
  const [asked, setAsked] = useState(moved);
  const answer = usePreview(path, asked);
  const current = asked === moved || (asked !== null && moved !== null && sameMarks(asked, moved));
  const busy = answer.isFetching;
  useEffect(() => {
    if (current) return;
    if (moved === null || !busy) {
      setAsked(moved);
      return;
    }
    const timer = setTimeout(() => setAsked(moved), patience);
    return () => clearTimeout(timer);
  }, [current, moved, busy]);
  return {
    detail: moved === null ? null : (answer.data ?? null),
    error: moved === null ? null : answer.error,
    current: moved === null || (current && !answer.isPlaceholderData),
  };
}
