import type { Remark } from '../remark/index.ts';
import { bearableChange, bearableZeroShift } from './bearable.ts';
import { gate } from './gate.ts';
import { figures } from './gate-words.ts';
import type { Gate } from './types.ts';

/** What is known of the zero. */
export interface ZeroGateFacts {
  /** By how much the zero lies from that of the check before, or from the stated one, K; null where nobody looked. */
  readonly zeroShift: number | null;
  /** What the analysis of the cooling so far says. */
  readonly remarks: readonly Remark[];
  /** Excess over the ambient that the heating is to make or made, K. */
  readonly step: number;
  readonly endFraction: number;
}

/**
 * Gate on the zero of the chain: `zero-steady`. What moved from one check to the next may move between baseline and
 * cooling as well, and may then not be more than tau can bear. Left out where nobody checked and the cooling is silent.
 */
export function zeroGates({ zeroShift, remarks, step, endFraction }: ZeroGateFacts): Gate[] {
  const limit = bearableZeroShift(Math.abs(step), endFraction);
  const base = { code: 'zero-steady', source: 'statistics', limit, unit: 'K' } as const;
  const mend = 'Short the input and read the zero again before the next trial, and let the chain warm up.';
  const drifting = remarks.find(({ code }) => code === 'zero-drift');
  if (drifting !== undefined) {
    return [
      gate({ ...base, value: zeroShift, state: 'missed', message: drifting.message, mend: drifting.action }),
    ];
  }
  if (zeroShift === null) return [];
  const shift = Math.abs(zeroShift);
  const part = figures(100 * bearableChange, 1);
  const message = `The zero moved by ${figures(shift, 2)} K at its last check; ${figures(limit, 2)} K between baseline and cooling would move the time constant by ${part} %.`;
  return [
    shift <= limit
      ? gate({ ...base, value: shift, state: 'met', message })
      : gate({ ...base, value: shift, state: 'missed', message, mend }),
  ];
}
