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
/** Where enough was recorded, this part of it steady is enough. */
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
  const duration = reading?.duration ?? 0;
  const length = duration >= steadyShare * wanted ? Math.max(duration, recorded) : duration;
  const base = {
    code: 'baseline-long',
    source: wanted > facts.shortest ? 'statistics' : 'protocol',
    value: length,
    limit: wanted,
    unit: 's',
  } as const;
  if (length >= wanted - trifle && reading !== null) {
    return gate({ ...base, state: 'met', message: `The baseline is ${spokenTime(length)} long.` });
  }
  if (isBefore(phase)) {
    return gate({
      ...base,
      state: 'open',
      message: `${spokenTime(Math.max(duration, recorded))} of a baseline are recorded, of ${spokenTime(wanted)}.`,
      mend: `Keep the jet on and do not heat before ${spokenTime(wanted)} are recorded.`,
    });
  }
  if (reading === null) {
    return gate({
      ...base,
      state: 'missed',
      message: 'Nothing was recorded before the heating, so the ambient is not known.',
      mend: `Let it cool for ${coolingInstead} time constants or more: the cooling itself must show the ambient.`,
    });
  }
  return gate({
    ...base,
    state: 'missed',
    message: `The baseline was ${spokenTime(duration)} long, of ${spokenTime(wanted)}; it gives the ambient to ${figures(reading.standardUncertainty, 2)} K.`,
    mend: `Go on with this trial, and record ${spokenTime(wanted)} before the next heating.`,
  });
}

function steady({ phase, reading }: BaselineGateFacts): Gate {
  const base = { code: 'baseline-steady', source: 'statistics', unit: 'K' } as const;
  if (reading === null) {
    return gate({
      ...base,
      value: null,
      limit: steadyWithin,
      state: isBefore(phase) ? 'open' : 'missed',
      message: isBefore(phase)
        ? 'The baseline is too short yet to tell whether it is steady.'
        : 'There is no baseline that could be steady.',
    });
  }
  const change = Math.abs(reading.change);
  const limit = Math.max(steadyWithin, significance * reading.slopeUncertainty * reading.duration);
  const numbers = { ...base, value: change, limit };
  const way = reading.change > 0 ? 'rises' : 'falls';
  if (reading.steady) {
    return gate({
      ...numbers,
      state: 'met',
      message: `The baseline changes by ${figures(change, 2)} K over ${spokenTime(reading.duration)}.`,
    });
  }
  const message = `The baseline ${way} by ${figures(change, 2)} K over ${spokenTime(reading.duration)}.`;
  if (isBefore(phase)) {
    return gate({
      ...numbers,
      state: 'close',
      message,
      mend: 'Keep the jet on and wait until the body has its temperature; do not heat yet.',
    });
  }
  return gate({
    ...numbers,
    state: 'missed',
    message,
    mend: 'Go on with this trial; before the next one wait until the body has the temperature of the jet.',
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
