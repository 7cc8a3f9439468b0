import { readFileSync } from 'node:fs';
import type { RigCheck } from '../../src/rig/index.ts';
import { experimentOf } from '../experiment/read.ts';

const text = readFileSync('examples/thornwick/experiment.yaml', 'utf8');

/** The example course, with pieces of its text replaced; fails where a piece is not in it. */
export function thornwick(...replacements: readonly (readonly [piece: string, by: string])[]) {
  let changed = text;
  for (const [piece, by] of replacements) {
    if (!changed.includes(piece)) throw new Error(`"${piece}" is not in the example`);
    changed = changed.replace(piece, by);
  }
  return experimentOf(changed);
}

/** Ten in the morning of a session, ms. */
export const session = Date.parse('2026-03-02T10:00:00Z');
export const minute = 60_000;
export const day = 24 * 60 * minute;

let number = 0;

/** A check of bench-1 that was made at the beginning of the session. */
export function check(given: Partial<RigCheck> & Pick<RigCheck, 'kind' | 'value' | 'written'>): RigCheck {
  number += 1;
  return {
    id: `c${number}`,
    at: new Date(session).toISOString(),
    who: 'IK',
    bench: 'bench-1',
    subject: null,
    note: '',
    ...given,
  };
}
