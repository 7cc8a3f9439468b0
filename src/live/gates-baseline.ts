import type { BaselineReading } from '../decay/index.ts';
import { gate } from './gate.ts';
import { figures, spokenTime } from './gate-words.ts';
import type { Gate, Phase } from './types.ts';

/** What is known of the stretch before the heating. Times in s, temperatures in °C. */
export interface BaselineGateFacts {
  readonly phase: Phase;
  /** Null where there is none, or not enough of it yet. */
  readonly reading: BaselineReading | null;
  /** Time recorded before the heating, or so far. */
  readonly recorded: number;
  /** Shortest baseline of the protocol. */
  readonly shortest: number;
  /** Excess over the ambient that the heating is to make or made, K. */
  readonly step: number;
  /** Ambient of the last trial on this bench; null where there is none. */
  readonly lastAmbient: number | null;
}

/** Largest standard uncertainty of the baseline's mean, K (common practice, no source). */
const uncertain = 0.3;
/** A noisy baseline is made longer than the protocol asks, up to this, s: 15 to 30 s are common practice. */
const longest = 30;
/** Where enough was recorded, this part of it steady is enough (common practice, no source). */
const steadyShare = 0.5;
/** Width of a block, s: by so much a baseline may be short without a word. */
const trifle = 0.1;
/** A change that does not matter, K, and the 99 % point of the normal distribution. */
const steadyWithin = 0.3;
const significance = 2.58;
/** Largest drift of the medium, as a part of the step: practice of response tests. */
const mediumDrift = 0.01;
/** An ambient that rests on the cooling alone wants this much of it, in time constants (Cramér-Rao bound). */
const coolingInstead = 3;

/** Gates on the stretch before the heating: `baseline-long`, `baseline-steady`, `ambient-steady`. */
export function baselineGates(facts: BaselineGateFacts): Gate[] {
  return [longEnough(facts), steady(facts), ...asLastTime(facts)];
}

function isBefore(phase: Phase): boolean {
  return phase === 'waiting' || phase === 'baseline';
}

/** Length that is asked for: by the protocol, or by the noise where that is more. */
function lengthWanted({ reading, shortest }: BaselineGateFacts): number {
  if (reading === null) return shortest;
  // The variance of a mean falls as one over the length.
  const byNoise = reading.duration * (reading.standardUncertainty / uncertain) ** 2;
  return Math.max(shortest, Math.min(longest, byNoise));
}

function longEnough(facts: BaselineGateFacts): Gate {
  const { phase, reading, recorded } = facts;
  const wanted = lengthWanted(facts);
  const length = Math.max(recorded, reading?.duration ?? 0);
  const base = {
    code: 'baseline-long',
    source: wanted > facts.shortest ? 'statistics' : 'protocol',
    value: length,
    limit: wanted,
    unit: 's',
  } as const;
  if (length >= wanted - trifle) {
    return gate({ ...base, state: 'met', message: `The baseline is ${spokenTime(length)} long.` });
  }
  if (isBefore(phase)) {
    return gate({
      ...base,
      state: 'open',
      message: `${spokenTime(length)} of a baseline are recorded, of ${spokenTime(wanted)}.`,
      mend: `Keep the jet on and do not heat before ${spokenTime(wanted)} are recorded.`,
    });
  }
  if (reading === null) {
    return gate({
      ...base,
      state: 'missed',
      message: `Only ${spokenTime(length)} were recorded before the heating, too little to know the ambient.`,
      mend: `Let it cool for ${coolingInstead} time constants or more: the cooling itself must show the ambient.`,
    });
  }
  return gate({
    ...base,
    state: 'missed',
    message: `The baseline was ${spokenTime(length)} long, of ${spokenTime(wanted)}; it gives the ambient to ${figures(reading.standardUncertainty, 2)} K.`,
    mend: `Go on with this trial, and record ${spokenTime(wanted)} before the next heating.`,
  });
}

function steady(facts: BaselineGateFacts): Gate {
  const { phase, reading, recorded } = facts;
  const base = { code: 'baseline-steady', source: 'statistics', unit: 'K' } as const;
  if (reading === null) {
    return gate({
      ...base,
      value: null,
      limit: steadyWithin,
      state: 'open',
      message: 'It cannot be told whether the baseline is steady.',
    });
  }
  const change = Math.abs(reading.change);
  const limit = Math.max(steadyWithin, significance * reading.slopeUncertainty * reading.duration);
  const numbers = { ...base, value: change, limit };
  const mend = isBefore(phase)
    ? 'Keep the jet on and wait until the body has its temperature; do not heat yet.'
    : 'Go on with this trial; before the next one wait until the body has the temperature of the jet.';
  const failed = isBefore(phase) ? 'close' : 'missed';
  const way = reading.change > 0 ? 'rises' : 'falls';
  if (!reading.steady) {
    const message = `The baseline ${way} by ${figures(change, 2)} K over ${spokenTime(reading.duration)}.`;
    return gate({ ...numbers, state: failed, message, mend });
  }
  if (!isBefore(phase) && reading.duration < steadyShare * Math.min(recorded, facts.shortest)) {
    const message = `Of the ${spokenTime(recorded)} before the heating only ${spokenTime(reading.duration)} were steady.`;
    return gate({ ...numbers, state: failed, message, mend });
  }
  return gate({
    ...numbers,
    state: 'met',
    message: `The baseline changes by ${figures(change, 2)} K over ${spokenTime(reading.duration)}.`,
  });
}

function asLastTime({ phase, reading, step, lastAmbient }: BaselineGateFacts): Gate[] {
  const limit = mediumDrift * Math.abs(step);
  if (lastAmbient === null || !(limit > 0)) return [];
  const base = { code: 'ambient-steady', source: 'common-practice', limit, unit: 'K' } as const;
  if (reading === null) {
    return [
      gate({ ...base, value: null, state: 'open', message: 'The ambient of this trial is not known yet.' }),
    ];
  }
  const change = reading.mean - lastAmbient;
  // A mean that is itself uncertain proves no change.
  const real = Math.abs(change) > limit + significance * reading.standardUncertainty;
  const way = change > 0 ? 'above' : 'below';
  const message = `The baseline lies ${figures(Math.abs(change), 2)} K ${way} that of the last trial.`;
  if (!real) return [gate({ ...base, value: Math.abs(change), state: 'met', message })];
  return [
    gate({
      ...base,
      value: Math.abs(change),
      state: isBefore(phase) ? 'close' : 'missed',
      message,
      mend: isBefore(phase)
        ? 'Wait until the body has the temperature of the jet, and look whether jet or zero has changed.'
        : 'Look whether jet, zero or room has changed before the next trial.',
    }),
  ];
}
