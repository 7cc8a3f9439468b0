import type { RecordingList } from '../../../src/server/contract/index.ts';
import type { Grid } from './arrange.ts';

/** How the course stands, in numbers. Every recording counts in one of the first seven. */
export interface Standing {
  readonly usable: number;
  readonly withRemarks: number;
  readonly repeat: number;
  readonly leftOut: number;
  readonly unreadable: number;
  readonly waiting: number;
  /** Their files still grow. */
  readonly writing: number;
  /** Conditions that a group has not recorded although others of its section have. */
  readonly missing: number;
  readonly unplaced: number;
}

export function standingOf({ recordings, unplaced }: RecordingList, grid: Grid): Standing {
  const count = { usable: 0, withRemarks: 0, repeat: 0, leftOut: 0, unreadable: 0, waiting: 0, writing: 0 };
  for (const { state, verdict, rejected } of recordings) {
    if (rejected) count.leftOut++;
    else if (state === 'unreadable') count.unreadable++;
    else if (state === 'waiting') count.waiting++;
    else if (state === 'writing') count.writing++;
    else if (verdict === 'usable') count.usable++;
    else if (verdict === 'usable-with-remarks') count.withRemarks++;
    else count.repeat++;
  }
  const missing = grid.rows.reduce(
    (sum, { cells }) => sum + cells.filter(({ kind }) => kind === 'missing').length,
    0,
  );
  return { ...count, missing, unplaced: unplaced.length };
}

/** Numbers and their words, for a line: `60 recordings`, `3 to repeat`. Zeros are left out. */
export function standingWords(standing: Standing): { count: number; words: string; strong: boolean }[] {
  const { usable, withRemarks, repeat, leftOut, unreadable, waiting, writing } = standing;
  const all = usable + withRemarks + repeat + leftOut + unreadable + waiting + writing;
  const lines = [
    { count: all, words: all === 1 ? 'recording' : 'recordings', strong: false },
    { count: usable, words: 'usable', strong: false },
    { count: withRemarks, words: 'usable, with remarks', strong: false },
    { count: repeat, words: 'to repeat', strong: true },
    { count: unreadable, words: 'unreadable', strong: true },
    { count: waiting, words: 'being analyzed', strong: false },
    { count: writing, words: 'still being written', strong: false },
    { count: leftOut, words: 'left out by a person', strong: false },
    { count: standing.missing, words: 'missing', strong: false },
    {
      count: standing.unplaced,
      words: standing.unplaced === 1 ? 'file without a place' : 'files without a place',
      strong: true,
    },
  ];
  return lines.filter(({ count }) => count > 0);
}
