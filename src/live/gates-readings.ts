import type { RawNoise } from '../decay/index.ts';
import type { Remark, Span } from '../remark/index.ts';
import { gate } from './gate.ts';
import { figures, spokenTime } from './gate-words.ts';
import type { Gate, Phase } from './types.ts';

/** What is known of the readings as such. Times in s. */
export interface ReadingGateFacts {
  readonly phase: Phase;
  readonly samplePeriod: number;
  /** Sampling rate that was planned, Hz; null where none is stated. */
  readonly plannedRate: number | null;
  /** Rate at which readings arrive, Hz; null where it is not known. */
  readonly arrivalRate: number | null;
  /** What was repaired or noticed on the way in. */
  readonly remarks: readonly Remark[];
  /** Null where there are too few readings. */
  readonly noise: RawNoise | null;
  /** Stretches without readings. */
  readonly gaps: readonly Span[];
  /** The clean cooling so far; null before. */
  readonly cooling: Span | null;
  /** Found so far, or expected; null where neither is known. */
  readonly timeConstant: number | null;
  /** Excess over the ambient that the heating is to make or made, K. */
  readonly step: number;
}

/** A rate may differ from the planned one by this part: what people round (common practice, no source). */
const rateTrifle = 0.02;
/** Readings that arrive in bursts are counted no better than this. */
const arrivalTrifle = 0.2;
/** The part of the cooling, in time constants, in which a gap matters, and the shares that matter and that spoil. */
const informative = 3;
const gapMatters = 0.1;
const gapSpoils = 0.5;
/** Largest converter step as a part of the step, where noise does not smooth it out (common practice, no source). */
const coarse = 0.02;
/** Noise of this part of a converter step smooths the stairs out. */
const dither = 1 / 3;

/** Gates on the readings: `rate-planned`, `converter-free`, `readings-whole`, `resolution-fine`. */
export function readingGates(facts: ReadingGateFacts): Gate[] {
  return [ratePlanned(facts), converterFree(facts), readingsWhole(facts), resolutionFine(facts)];
}

function isBefore(phase: Phase): boolean {
  return phase === 'waiting' || phase === 'baseline';
}

function ratePlanned(facts: ReadingGateFacts): Gate {
  const { phase, samplePeriod, plannedRate, arrivalRate, remarks } = facts;
  const rate = 1 / samplePeriod;
  const base = {
    code: 'rate-planned',
    source: 'protocol',
    value: rate,
    limit: plannedRate,
    unit: '1/s',
  } as const;
  const disagreeing = remarks.find(({ code }) => code === 'rate-disagrees');
  if (disagreeing !== undefined) {
    return gate({ ...base, state: 'missed', message: disagreeing.message, mend: disagreeing.action });
  }
  if (arrivalRate !== null && Math.abs(Math.log(rate / arrivalRate)) > arrivalTrifle) {
    return gate({
      ...base,
      limit: arrivalRate,
      state: 'missed',
      message: `By the file there are ${figures(rate)} readings a second, but ${figures(arrivalRate)} a second arrive.`,
      mend: 'Set the rate in the logger right and start a new file: the time constant would be wrong by the same factor.',
    });
  }
  const is = `The logger takes ${figures(rate)} readings a second`;
  if (plannedRate === null)
    return gate({ ...base, state: 'met', message: `${is}; the plan states no rate.` });
  if (Math.abs(rate / plannedRate - 1) <= rateTrifle)
    return gate({ ...base, state: 'met', message: `${is}.` });
  const planned = `${is}, not the ${figures(plannedRate)} that were planned.`;
  return isBefore(phase)
    ? gate({
        ...base,
        state: 'close',
        message: planned,
        mend: 'Set the rate of the logger before the heating, and start a new file.',
      })
    : gate({
        ...base,
        state: 'missed',
        message: planned,
        mend: 'Make sure that the file states the true rate: with a wrong one the time constant is wrong by the same factor.',
      });
}

function converterFree({ phase, remarks, noise, cooling }: ReadingGateFacts): Gate {
  const base = { code: 'converter-free', source: 'statistics', limit: 0, unit: '1' } as const;
  const within = ({ from, to }: Span) => cooling !== null && to >= cooling.from && from <= cooling.to;
  const inCooling = noise?.clipping.find(within);
  const overload = remarks.find(({ code }) => code === 'clipped');
  if (overload !== undefined && inCooling === undefined) {
    // Readings that are marked are missing, not false: `readings-whole` says whether too many are.
    return gate({
      ...base,
      value: null,
      unit: null,
      state: 'missed',
      message: overload.message,
      mend: 'Choose a wider input range or a smaller gain, and look whether the sensor is connected.',
    });
  }
  if (noise === null) {
    return gate({
      ...base,
      value: null,
      state: 'open',
      message: 'There are too few readings yet to see the ends of the converter.',
    });
  }
  const first = inCooling ?? noise.clipping[0];
  if (first === undefined) {
    return gate({ ...base, value: 0, state: 'met', message: 'No reading sits at an end of the converter.' });
  }
  const alike = noise.clipping.filter(({ end }) => end === first.end);
  const readings = alike.reduce((sum, one) => sum + one.readings, 0);
  const spoils = inCooling !== undefined;
  const when = isBefore(phase) ? 'Choose' : spoils ? 'Repeat the trial with' : 'Before the next trial choose';
  return gate({
    ...base,
    value: readings,
    state: 'missed',
    message: `${readings} readings sit exactly at ${figures(first.level, 5)} °C, the ${first.end === 'top' ? 'highest' : 'lowest'} value there is: an end of the converter.`,
    mend: `${when} a wider input range or a smaller gain${isBefore(phase) ? ', and look whether the sensor is connected' : ''}.`,
    spoils,
  });
}

function readingsWhole({ gaps, cooling, timeConstant }: ReadingGateFacts): Gate {
  const missing = gaps.reduce((sum, { from, to }) => sum + to - from, 0);
  const base = { code: 'readings-whole', source: 'statistics', limit: gapMatters, unit: '1' } as const;
  if (gaps.length === 0)
    return gate({ ...base, value: 0, state: 'met', message: 'The readings have no gap.' });
  const within = ({ from, to }: Span, span: Span) =>
    Math.max(0, Math.min(to, span.to) - Math.max(from, span.from));
  const until =
    cooling === null ? null : Math.min(cooling.to, cooling.from + informative * (timeConstant ?? Infinity));
  const share =
    cooling === null || until === null || !(until > cooling.from)
      ? 0
      : gaps.reduce((sum, gap) => sum + within(gap, { from: cooling.from, to: until }), 0) /
        (until - cooling.from);
  const longest = gaps.reduce((a, b) => (b.to - b.from > a.to - a.from ? b : a));
  const message = `Readings are missing for ${spokenTime(missing)}, longest from ${figures(longest.from, 4)} to ${figures(longest.to, 4)} s${
    share > 0 ? `: ${figures(100 * share, 2)} % of the cooling that matters` : ''
  }.`;
  if (share <= gapMatters) return gate({ ...base, value: share, state: 'met', message });
  const spoils = share > gapSpoils;
  return gate({
    ...base,
    value: share,
    state: 'missed',
    message,
    mend: spoils
      ? 'Look at logger and cable, and repeat the trial.'
      : 'Look at logger and cable before the next trial.',
    spoils,
  });
}

function resolutionFine({ phase, noise, step }: ReadingGateFacts): Gate {
  const limit = coarse * Math.abs(step);
  const base = { code: 'resolution-fine', source: 'common-practice', limit, unit: 'K' } as const;
  if (noise === null) {
    return gate({
      ...base,
      value: null,
      state: 'open',
      message: 'There are too few readings yet to see the step of the converter.',
    });
  }
  const lsb = noise.step;
  if (lsb === null) {
    return gate({
      ...base,
      value: null,
      state: 'met',
      message: 'The readings show no step of the converter.',
    });
  }
  const smooth = Math.hypot(noise.white, noise.correlated) >= dither * lsb;
  const message = `The step of the converter is ${figures(lsb, 2)} K.`;
  if (smooth || lsb <= limit) return gate({ ...base, value: lsb, state: 'met', message });
  return gate({
    ...base,
    value: lsb,
    state: isBefore(phase) ? 'close' : 'missed',
    message: `${message.slice(0, -1)}, ${figures((100 * lsb) / Math.abs(step), 2)} % of the temperature step.`,
    mend: 'Choose a smaller input range or a higher gain.',
  });
}
