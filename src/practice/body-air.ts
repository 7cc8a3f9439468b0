import type { BenchTrial, Heating } from './bench-types.ts';
import { stemFactor } from './body-chain.ts';
import type { Conditions } from './body-step.ts';
import type { Random } from './random.ts';

/** A stretch of time without a jump in what surrounds the body. */
export interface AirSegment {
  /** s. */
  readonly from: number;
  readonly to: number;
  /** Air without hot stream at time 0, °C, and its drift, K/s. */
  readonly level: number;
  readonly drift: number;
  /** Excess of the hot stream: from a start to an end, K, in an exponential with a time constant, s, 0 for at once. */
  readonly excess: { readonly start: number; readonly end: number; readonly time: number };
  /** Relative standard deviation of the excess while it is held by hand; null where it dies away by itself. */
  readonly wander: number | null;
  /** About the sphere, W/(m² K). */
  readonly coefficient: number;
  readonly stemFactor: number;
}

/** Correlation time of a hand's wander, s: common practice, no source. */
const wanderTime = 2;

/** Excess of the hot stream over the air at a time within the segment, K. */
function streamExcess(segment: AirSegment, time: number): number {
  const { start, end, time: constant } = segment.excess;
  if (constant === 0) return end;
  return end + (start - end) * Math.exp(-(time - segment.from) / constant);
}

/**
 * Cuts a trial where something jumps: a heating starts or ends, the jet is changed. What is assumed: the hot stream's
 * excess over ambient builds up from what is left of the last one and dies away from where it was; the jet's offset
 * counts from the end of the last heating on, before that the body stands in air at ambient with the same
 * coefficients; a change of the jet counts outside heatings; air temperatures all drift alike, from time 0.
 *
 * @param start s, not after the first heating
 * @param end s
 */
export function airSegments(trial: BenchTrial, start: number, end: number): AirSegment[] {
  const { air, heatings } = trial;
  const heatOff = heatings.at(-1)?.to ?? start;
  const change = air.jetChange !== null && air.jetChange.at < trial.length ? air.jetChange : null;
  const jumps = [start, end, ...heatings.flatMap((h) => [h.from, h.to]), ...(change ? [change.at] : [])];
  const times = [...new Set(jumps)].filter((t) => t >= start && t <= end).sort((a, b) => a - b);
  const segments: AirSegment[] = [];
  let excess = 0;
  let lastHeating: Heating | null = null;
  for (const [k, to] of times.slice(1).entries()) {
    const from = times[k] ?? start;
    const heating: Heating | null = heatings.find((h) => h.from <= from && from < h.to) ?? null;
    lastHeating = heating ?? lastHeating;
    const jet = change !== null && from >= change.at ? change.factor : 1;
    const segment = {
      from,
      to,
      level: air.ambient + (from >= heatOff ? air.jetOffset : 0),
      drift: air.drift,
      excess: {
        start: excess,
        end: heating === null ? 0 : heating.stream - air.ambient,
        time: heating === null ? (lastHeating?.tail ?? 0) : heating.rise,
      },
      wander: heating === null ? null : heating.wander,
      coefficient: heating === null ? air.coefficient * jet : heating.coefficient,
      stemFactor: heating === null ? jet : stemFactor(trial, heating.coefficient),
    };
    segments.push(segment);
    excess = streamExcess(segment, to);
  }
  return segments;
}

/** A stationary Gaussian process with an exponential memory (Uhlenbeck & Ornstein, 1930), sampled exactly. */
interface Fluctuation {
  /** In standard deviations, at the start and at the end of the present step. */
  start: number;
  end: number;
}

/** Goes on by a step; the exact transition of the process, whatever the step. */
function goOn(fluctuation: Fluctuation, step: number, correlationTime: number, random: Random): void {
  const memory = Math.exp(-step / correlationTime);
  fluctuation.start = fluctuation.end;
  fluctuation.end = memory * fluctuation.start + Math.sqrt(1 - memory * memory) * random.normal();
}

/** What the air does by chance. */
export interface Disturbances {
  /** Draws what happens over the next step of a segment. */
  goOn(segment: AirSegment, step: number): void;
  /** Conditions in the present step, at a share of it; between its ends the chance part is a straight line. */
  at(segment: AirSegment, time: number, share: number): Conditions;
  /** Longest step that still follows the chance part in a segment, s. */
  longestStep(segment: AirSegment): number;
  /** The air's temperature fluctuation now, K. */
  turbulence(): number;
}

/** Steps within a correlation time: joined by straight lines, they put the slow part's variance right to 0.5 %. */
const stepsPerCorrelationTime = 4;

/**
 * Turbulence of the air's temperature, fluctuation of the coefficients (log-normal about a mean of 1) and wander of
 * the hot stream, which is held where it was when the heating ends. Each that the trial has draws one normal number
 * at the start and one a step, in this order; the wander in heatings only.
 */
export function createDisturbances(trial: BenchTrial, random: Random): Disturbances {
  const { turbulence, coefficientFluctuation } = trial.air;
  const fluctuation = (present: boolean): Fluctuation => {
    const value = present ? random.normal() : 0;
    return { start: value, end: value };
  };
  const temperature = fluctuation(turbulence !== null);
  const coefficient = fluctuation(coefficientFluctuation !== null);
  const hand = fluctuation(trial.heatings.some((heating) => heating.wander > 0));
  let wander = 0;
  const between = (f: Fluctuation, share: number) => f.start + share * (f.end - f.start);
  return {
    goOn(segment, step) {
      if (turbulence !== null) goOn(temperature, step, turbulence.correlationTime, random);
      if (coefficientFluctuation !== null) {
        goOn(coefficient, step, coefficientFluctuation.correlationTime, random);
      }
      if (segment.wander !== null && segment.wander > 0) goOn(hand, step, wanderTime, random);
    },
    at(segment, time, share) {
      if (segment.wander !== null) wander = segment.wander * between(hand, share);
      const fluctuating = (turbulence?.standardDeviation ?? 0) * between(temperature, share);
      const excess = streamExcess(segment, time) * (1 + wander);
      const relative = coefficientFluctuation?.relative ?? 0;
      const factor =
        relative > 0 ? Math.exp(relative * between(coefficient, share) - (relative * relative) / 2) : 1;
      return {
        air: segment.level + segment.drift * time + excess + fluctuating,
        coefficient: segment.coefficient * factor,
        stemFactor: segment.stemFactor * factor,
      };
    },
    longestStep(segment) {
      const times = [
        turbulence?.correlationTime ?? Number.POSITIVE_INFINITY,
        coefficientFluctuation?.correlationTime ?? Number.POSITIVE_INFINITY,
        segment.wander !== null && segment.wander > 0 ? wanderTime : Number.POSITIVE_INFINITY,
      ];
      return Math.min(...times) / stepsPerCorrelationTime;
    },
    turbulence: () => (turbulence?.standardDeviation ?? 0) * temperature.end,
  };
}

/** Air without any chance part. */
export const undisturbed: Disturbances = {
  goOn() {},
  at: (segment, time) => ({
    air: segment.level + segment.drift * time + streamExcess(segment, time),
    coefficient: segment.coefficient,
    stemFactor: segment.stemFactor,
  }),
  longestStep: () => Number.POSITIVE_INFINITY,
  turbulence: () => 0,
};
