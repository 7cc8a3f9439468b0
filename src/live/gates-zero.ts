import type { Experiment } from '../experiment/index.ts';
import type { Remark } from '../remark/index.ts';
import { thermocoupleEmf } from '../sensing/index.ts';
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

/** A room, °C, where the experiment file names no temperature. */
const usualRoom = 20;

/**
 * What a shift of the zero looks like in temperature near the ambient, K.
 *
 * @param volts shift at the logger, V
 * @returns null where the experiment file names no thermocouple
 */
export function zeroShiftInKelvin({ sensor, supply, room }: Experiment, volts: number): number | null {
  const { thermocouple, gain = 1 } = sensor;
  if (thermocouple === undefined) return null;
  const ambient = supply?.temperature.value ?? room?.temperature.value ?? usualRoom;
  const perKelvin =
    thermocoupleEmf(thermocouple, ambient + 0.5) - thermocoupleEmf(thermocouple, ambient - 0.5);
  const shift = volts / (gain * perKelvin);
  return Number.isFinite(shift) ? shift : null;
}
