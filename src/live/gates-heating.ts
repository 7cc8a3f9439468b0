import { gate } from './gate.ts';
import { figures, spokenTime } from './gate-words.ts';
import type { Gate, Phase } from './types.ts';

/** What is known of the heating. Temperatures in °C. */
export interface HeatingGateFacts {
  readonly phase: Phase;
  readonly temperature: number | null;
  /** K/s over the latest stretch. */
  readonly slope: number | null;
  /** Hottest so far. */
  readonly peak: number | null;
  /** Null for none. */
  readonly target: number | null;
  readonly limit: number | null;
  /** Excess over the ambient that the heating is to make or made, K. */
  readonly step: number;
}

/** A target may be missed by this part of the step without a word: the uncertainty grows by as much. */
const targetTrifle = 0.01;
/** The limit is warned of so many seconds ahead: time to hear it, to turn and to take the heat away. */
const warnAhead = 10;
/** Below the target the heat is meant to go on, so the warning waits. */
const warnBelowTarget = 5;

/** Who hurries with hot air needs the caution most. */
const heatAway = 'Take the heat away now, aiming at nobody, and keep hands off the hot body';

/** Gates on the heating: `target-reached`, `limit-kept`. Those without a number in the protocol are left out. */
export function heatingGates(facts: HeatingGateFacts): Gate[] {
  return [...targetReached(facts), ...limitKept(facts)];
}

function hottest({ peak, temperature }: HeatingGateFacts): number | null {
  const known = [peak, temperature].filter((value) => value !== null);
  return known.length === 0 ? null : Math.max(...known);
}

/** s at the present heating rate; null where it does not get there. */
function secondsTo({ temperature, slope }: HeatingGateFacts, level: number): number | null {
  if (temperature === null || slope === null || !(slope > 0) || temperature >= level) return null;
  return (level - temperature) / slope;
}

function targetReached(facts: HeatingGateFacts): Gate[] {
  const { phase, target, step } = facts;
  if (target === null) return [];
  const top = hottest(facts);
  const base = { code: 'target-reached', source: 'protocol', value: top, limit: target, unit: '°C' } as const;
  const asked = `${figures(target)} °C`;
  if (phase === 'waiting' || phase === 'baseline' || top === null) {
    return [gate({ ...base, state: 'open', message: `The heating shall reach ${asked}.` })];
  }
  if (top >= target) {
    return [gate({ ...base, state: 'met', message: `${figures(top)} °C were reached, of ${asked}.` })];
  }
  if (phase === 'heating') {
    const left = secondsTo(facts, target);
    const when = left === null ? '' : `; at this rate it takes ${spokenTime(left)} more`;
    return [
      gate({
        ...base,
        state: 'open',
        message: `${figures(top)} °C are reached, of ${asked}${when}.`,
        mend: `Heat on to ${asked}.`,
      }),
    ];
  }
  const stopped = `The heating stopped at ${figures(top)} °C, ${figures(target - top, 2)} K below ${asked}.`;
  if (target - top <= targetTrifle * Math.abs(step)) {
    return [gate({ ...base, state: 'met', message: stopped })];
  }
  return [
    gate({
      ...base,
      state: 'missed',
      message: stopped,
      mend: 'Go on with this trial, and heat longer next time: in a smaller step noise and ambient weigh more.',
    }),
  ];
}

function limitKept(facts: HeatingGateFacts): Gate[] {
  const { phase, limit, target, temperature } = facts;
  if (limit === null) return [];
  const top = hottest(facts);
  const base = { code: 'limit-kept', source: 'protocol', value: top, limit, unit: '°C' } as const;
  const bears = `${figures(limit)} °C`;
  if (top === null || phase === 'waiting' || phase === 'baseline') {
    return [gate({ ...base, state: 'open', message: `The body may not pass ${bears}.` })];
  }
  if (top > limit) {
    const heating = phase === 'heating';
    return [
      gate({
        ...base,
        state: 'missed',
        message: `The body reached ${figures(top)} °C, above its limit of ${bears}.`,
        mend: heating
          ? `${heatAway}, and look whether the junction still sits firmly in the cooled body.`
          : 'Before the next trial look whether the junction still sits firmly in the cooled body.',
      }),
    ];
  }
  if (phase !== 'heating') {
    return [gate({ ...base, state: 'met', message: `The body stayed below ${bears}.` })];
  }
  const left = secondsTo(facts, limit);
  const onTarget = target === null || target >= limit || (temperature ?? top) >= target;
  if (left !== null && left < (onTarget ? warnAhead : warnBelowTarget)) {
    return [
      gate({
        ...base,
        state: 'close',
        message: `At this rate the limit of ${bears} is reached in ${spokenTime(left)}.`,
        mend: `${heatAway}.`,
      }),
    ];
  }
  return [
    gate({ ...base, state: 'open', message: `The body has ${figures(top)} °C; it may not pass ${bears}.` }),
  ];
}
