import { choleskyFactor, choleskyForward } from '../statistics/index.ts';
import { classroomResponse } from './fingerprint-response.ts';

/** Three values of a time constant and how they stand to the fit. */
export interface FingerprintInput {
  /** ln of value over fitted time constant: 36.8 % point, regression through the origin, with intercept. */
  readonly logRatio: readonly number[];
  /** Covariance of these. */
  readonly covariance: readonly (readonly number[])[];
  /** Fitted time constant, s. */
  readonly timeConstant: number;
  /** From the start to the ambient, K. */
  readonly step: number;
  /** Sampling rate, Hz, for the slip of counting samples as seconds; null where it is not known. */
  readonly rate: number | null;
}

/**
 * What the three values look like. `none`: they agree with the fit. `start`: time origin or start temperature.
 * `ambient`: too high or too low. `crossing`: the 36.8 % value alone is off. `time-unit`: all by one factor.
 * `logarithm`: both regressions by ln 10. `unclear`: none of these.
 */
export type Fault = 'none' | 'start' | 'ambient' | 'crossing' | 'time-unit' | 'logarithm' | 'unclear';

/** The mistake that explains the differences best. */
export interface Fingerprint {
  readonly fault: Fault;
  /** Chi-square of the differences against none, three degrees of freedom. */
  readonly chiSquareNone: number;
  /** Chi-square that is left when the fault is allowed for. */
  readonly chiSquareLeft: number;
  /** Size as a temperature, K: positive where start temperature or ambient was taken too high; else null. */
  readonly kelvin: number | null;
  /** Size as a time, s: positive where the clock was zeroed too early; else null. */
  readonly seconds: number | null;
  /** Factor on the values, for `time-unit`, `logarithm` and `crossing`; else null. */
  readonly factor: number | null;
  /** One sentence. */
  readonly sentence: string;
}

/** 95 % points of chi-square: three degrees of freedom, and 99 % for two, which are left beside one size. */
const agreement = 7.815;
const explained = 9.21;

/** How exactly a real record follows the response of an ideal one: so much of ln, and of the difference. */
const ideal = { least: 0.004, share: 0.06 };

/**
 * Sizes that are looked for: time constants for the start, parts of the step for the ambient. With an ambient
 * a tenth of the step off, the lower end of the window is never reached.
 */
const sizes = { 'start-time': [-0.5, 6], ambient: [-0.105, 0.09] } as const;

interface Candidate {
  readonly fault: Fault;
  readonly size: number;
  readonly chiSquare: number;
}

/**
 * Reads the differences of the three values from the fit as one mistake. A start mistake moves them as
 * 1 : 0.65 : 0, an ambient mistake as 1.7 : 2.7 : 3.6, a slip of the time unit by one factor, of the
 * logarithm's base both regressions alone. Sizes are those of a perfect decay, so large mistakes are read
 * right as well.
 *
 * The simplest mistake is preferred: one is named only where the differences exceed what noise, ambient and
 * drift explain (95 %), and where what it leaves is within that and the departure of a real record from a
 * perfect one (99 %).
 */
export function readFingerprint(input: FingerprintInput): Fingerprint {
  const { logRatio } = input;
  if (logRatio.length !== 3 || !logRatio.every(Number.isFinite)) {
    return describe(input, { fault: 'unclear', size: 0, chiSquare: Number.NaN }, Number.NaN);
  }
  const against = (expected: readonly number[]) => chiSquare(input, expected);
  const none = against([0, 0, 0]);
  if (!(none > agreement)) return describe(input, { fault: 'none', size: 0, chiSquare: none }, none);
  const candidates: Candidate[] = [
    ...(['start-time', 'ambient'] as const).map((kind) => bestSize(kind, against)),
    bestFactor('crossing', [1, 0, 0], against),
    ...slips(input, against),
  ];
  const best = candidates.reduce((a, b) => (b.chiSquare < a.chiSquare ? b : a));
  const chosen = best.chiSquare <= explained ? best : { ...best, fault: 'unclear' as const };
  return describe(input, chosen, none);
}

/** Squared differences from what is expected, weighted by their covariance. */
function chiSquare(input: FingerprintInput, expected: readonly number[]): number {
  const difference = Float64Array.from(input.logRatio, (x, i) => x - (expected[i] ?? Number.NaN));
  if (!difference.every(Number.isFinite)) return Number.POSITIVE_INFINITY;
  const matrix = new Float64Array(9);
  for (let i = 0; i < 3; i++) {
    for (let k = 0; k < 3; k++) matrix[3 * i + k] = input.covariance[i]?.[k] ?? 0;
    const allowance = ideal.least ** 2 + (ideal.share * (expected[i] ?? 0)) ** 2;
    matrix[4 * i] = (input.covariance[i]?.[i] ?? 0) + allowance;
  }
  if (!choleskyFactor(matrix, 3)) return Number.POSITIVE_INFINITY;
  choleskyForward(matrix, 3, difference);
  return difference.reduce((sum, z) => sum + z * z, 0);
}

type Against = (expected: readonly number[]) => number;

/** The size of a mistake that leaves least: a scan, then two finer ones about the best. */
function bestSize(kind: 'start-time' | 'ambient', against: Against): Candidate {
  const left = (size: number) => against(classroomResponse(kind, size).map(Math.log));
  const [smallest, largest] = sizes[kind];
  let centre = (largest + smallest) / 2;
  let reach = (largest - smallest) / 2;
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 4; round++) {
    const middle = centre;
    for (let i = -30; i <= 30; i++) {
      const size = middle + (reach * i) / 30;
      const chi = left(size);
      if (chi < least) {
        least = chi;
        centre = size;
      }
    }
    reach /= 15;
  }
  return { fault: kind === 'ambient' ? 'ambient' : 'start', size: centre, chiSquare: least };
}

/** A common factor on some of the values: the mean of their logarithms. */
function bestFactor(fault: Fault, pattern: readonly number[], against: Against): Candidate {
  let best: Candidate = { fault, size: 0, chiSquare: Number.POSITIVE_INFINITY };
  let centre = 0;
  let reach = 1.5;
  for (let round = 0; round < 4; round++) {
    const middle = centre;
    for (let i = -30; i <= 30; i++) {
      const size = middle + (reach * i) / 30;
      const chi = against(pattern.map((p) => p * size));
      if (chi < best.chiSquare) {
        best = { fault, size, chiSquare: chi };
        centre = size;
      }
    }
    reach /= 15;
  }
  return best;
}

/** Slips whose factor is known beforehand: milliseconds, minutes, samples for seconds; log10 for ln. */
function slips(input: FingerprintInput, against: Against): Candidate[] {
  const factors = [1000, 1e-3, 60, 1 / 60, 10, 0.1];
  if (input.rate !== null && input.rate > 0 && input.rate !== 1) factors.push(input.rate, 1 / input.rate);
  const units = factors.map((f): Candidate => {
    const size = Math.log(f);
    return { fault: 'time-unit', size, chiSquare: against([size, size, size]) };
  });
  const base = Math.log(Math.LN10);
  return [...units, { fault: 'logarithm', size: base, chiSquare: against([0, base, base]) }];
}

function describe(input: FingerprintInput, found: Candidate, none: number): Fingerprint {
  const { fault, size } = found;
  const base = {
    fault,
    chiSquareNone: none,
    chiSquareLeft: found.chiSquare,
    kelvin: null,
    seconds: null,
    factor: null,
  };
  const seconds = size * input.timeConstant;
  switch (fault) {
    case 'none':
      return {
        ...base,
        sentence:
          'The three classroom values agree with the fit within their uncertainty; nothing needs explaining.',
      };
    case 'start': {
      const kelvin = Math.expm1(-size) * input.step;
      return {
        ...base,
        seconds,
        kelvin,
        sentence: `The values look like a start fault: the clock zeroed ${amount(Math.abs(seconds))} s too ${
          seconds > 0 ? 'early' : 'late'
        }, or the start temperature ${amount(Math.abs(kelvin))} K too ${kelvin > 0 ? 'high' : 'low'}.`,
      };
    }
    case 'ambient': {
      const kelvin = size * input.step;
      return {
        ...base,
        kelvin,
        sentence: `The values look like an ambient taken ${amount(Math.abs(kelvin))} K too ${
          kelvin > 0 ? 'high' : 'low'
        }.`,
      };
    }
    case 'crossing':
      return {
        ...base,
        factor: Math.exp(size),
        sentence: `Only the 36.8 % value is off, by ${amount(100 * Math.expm1(size))} %: it was read at a single crossing of noisy readings, or at another fraction.`,
      };
    case 'time-unit':
      return {
        ...base,
        factor: Math.exp(size),
        sentence: `All three values are off by the same factor of about ${amount(Math.exp(size))}: a slip of the time unit or of the sampling rate.`,
      };
    case 'logarithm':
      return {
        ...base,
        factor: Math.LN10,
        sentence: 'Both regressions are too long by 2.303: the logarithm to base 10 was taken for ln.',
      };
    case 'unclear':
      return {
        ...base,
        sentence: 'The three values differ from the fit in a way that no single slip explains.',
      };
  }
}

/** A size with two figures. */
function amount(x: number): string {
  return String(Number(x.toPrecision(2)));
}
