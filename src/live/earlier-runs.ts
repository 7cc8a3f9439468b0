import { choleskyFactor, choleskySolve } from '../statistics/index.ts';
import type { BodyCandidate } from './body-candidate.ts';

/** A time constant that was measured before, of a body that was taken for the named one. */
export interface EarlierRun {
  /** The condition that it was of. */
  readonly candidate: BodyCandidate;
  /** Code of the bench; null where there is only one. */
  readonly bench: string | null;
  /** s, > 0. */
  readonly timeConstant: number;
  /** Standard uncertainty of ln tau. */
  readonly relative: number;
}

/** Standard deviations of ln tau from trial to trial and from bench to bench (common practice, no source). */
export const trialScatter = 0.02;
const benchScatter = 0.03;
/** The latest runs say what the others say, and the matrices stay small. */
const mostRuns = 40;
/** A run that lies further from what the others let expect, in standard uncertainties, was of something else. */
const strayFrom = 3.3;

/** Effects of all causes on ln tau, by their names. */
export type Effects = ReadonlyMap<string, number>;

/** Runs that go together, ready to be conditioned on. */
export interface KnownRuns {
  readonly runs: readonly EarlierRun[];
  readonly effects: readonly Effects[];
  /** Cholesky factor of the covariance matrix of ln tau. */
  readonly factor: Float64Array;
  /** Inverse of that matrix times the departures from the predictions. */
  readonly weighed: Float64Array;
}

/** Causes of a body on a bench: those of its prediction, and the bench. */
export function effectsOn({ causes }: BodyCandidate, bench: string | null): Effects {
  const effects = new Map<string, number>();
  for (const { cause, effect } of causes) effects.set(cause, (effects.get(cause) ?? 0) + effect);
  effects.set(`bench ${bench ?? ''}`, benchScatter);
  return effects;
}

/** Covariance of two ln tau that are moved by common causes. */
export function covariance(a: Effects, b: Effects): number {
  let sum = 0;
  for (const [cause, effect] of a) sum += effect * (b.get(cause) ?? 0);
  return sum;
}

/**
 * The latest runs, without those that the others contradict: one by one the run is left out that lies furthest from
 * what all others let expect, as long as it lies too far for chance. A trial that was of another body, or without the
 * jet, shall not teach what the next one should show.
 *
 * @returns null where none is left
 */
export function knownRuns(earlier: readonly EarlierRun[]): KnownRuns | null {
  let runs = earlier.filter(isUsable).slice(-mostRuns);
  while (runs.length > 0) {
    const known = conditioned(runs);
    if (known === null) return null;
    const stray = strayest(known);
    if (stray === null) return known;
    runs = runs.filter((_, i) => i !== stray);
  }
  return null;
}

function conditioned(runs: readonly EarlierRun[]): KnownRuns | null {
  const effects = runs.map(({ candidate, bench }) => effectsOn(candidate, bench));
  const n = runs.length;
  const factor = new Float64Array(n * n);
  effects.forEach((a, i) => {
    effects.forEach((b, j) => {
      factor[i * n + j] = covariance(a, b);
    });
    factor[i * n + i] = (factor[i * n + i] ?? 0) + trialScatter ** 2 + (runs[i]?.relative ?? 0) ** 2;
  });
  if (!choleskyFactor(factor, n)) return null;
  const weighed = Float64Array.from(runs, (run) => Math.log(run.timeConstant / run.candidate.predicted));
  choleskySolve(factor, n, weighed);
  return { runs, effects, factor, weighed };
}

/**
 * The run that lies too far from what the others let expect, and furthest; null where none does. Left out, a run lies
 * (C⁻¹d)ᵢ/(C⁻¹)ᵢᵢ off, with the variance 1/(C⁻¹)ᵢᵢ (Rasmussen and Williams, Gaussian Processes for Machine Learning,
 * 2006, eq. 5.12).
 */
function strayest({ runs, factor, weighed }: KnownRuns): number | null {
  const n = runs.length;
  let furthest = strayFrom;
  let stray: number | null = null;
  for (let i = 0; i < n; i++) {
    const column = new Float64Array(n);
    column[i] = 1;
    choleskySolve(factor, n, column);
    const score = Math.abs(weighed[i] ?? 0) / Math.sqrt(column[i] ?? Number.NaN);
    if (score > furthest) {
      furthest = score;
      stray = i;
    }
  }
  return stray;
}

function isUsable({ timeConstant, relative, candidate }: EarlierRun): boolean {
  const positive = [timeConstant, candidate.predicted].every((value) => value > 0 && Number.isFinite(value));
  return positive && relative >= 0 && Number.isFinite(relative);
}
