import { armaCovariance, dot, stepsBetween } from '../statistics/index.ts';
import type { AdequacyInput } from './adequacy-types.ts';
import { type CurveProblem, fitCurve } from './fit-curve.ts';
import { priorVariance, type Response, responseOf } from './fit-propagation.ts';
import type { DecayFit } from './fit-types.ts';

/** A value with its standard uncertainty. */
export interface Found {
  readonly value: number;
  readonly standardUncertainty: number;
}

/** The reading at the start is averaged over this many time constants. */
const startAverage = 0.02;
/** The readings about the half and the tenth are averaged over this many time constants to either side. */
const aboutHalf = 0.1;
const aboutTenth = 0.2;
/** Fewest blocks of a part of the decay that a time constant of its own is fitted to. */
const fewestInPart = 8;

/** Blocks of the fit with those before it, and which of them are averaged for the reading at the start. */
export interface Start {
  readonly time: Float64Array;
  readonly steps: Float64Array;
  /** Number of blocks before those of the fit. */
  readonly before: number;
  /** One over the number of blocks averaged at those blocks, 0 elsewhere. */
  readonly weights: Float64Array;
  /** Middle of the averaged blocks, s. */
  readonly at: number;
  /** Mean reading, °C. */
  readonly mean: number;
  readonly from: 'heat-off' | 'window-start';
}

/** The reading when the heat went off, or at the start of the window where that is not known or not recorded. */
export function readingAtStart({ fit, early }: AdequacyInput): Start | null {
  const width = fit.noise.blockWidth;
  const positionOf = (t: number) => Math.round((t - fit.start) / width);
  const kept: number[] = [];
  let last = Number.NEGATIVE_INFINITY;
  early?.time.forEach((t, i) => {
    const position = positionOf(t);
    // Blocks that are not on the fit's grid, one a position and before it, say nothing about the noise between.
    if (t < early.heatOff || position >= 0 || position <= last) return;
    kept.push(i);
    last = position;
  });
  const before = kept.length;
  const time = new Float64Array(before + fit.time.length);
  const value = new Float64Array(time.length);
  kept.forEach((from, i) => {
    time[i] = early?.time[from] ?? Number.NaN;
    value[i] = early?.value[from] ?? Number.NaN;
  });
  time.set(fit.time, before);
  for (let i = 0; i < fit.time.length; i++) {
    value[before + i] = (fit.fitted[i] ?? Number.NaN) + (fit.residual[i] ?? Number.NaN);
  }

  const first = time[0] ?? Number.NaN;
  const heatOff = early?.heatOff ?? Number.NaN;
  const atHeatOff = first - heatOff < Math.max(startAverage * fit.timeConstant, 1.5 * width);
  const from = atHeatOff ? heatOff : first - width / 2;
  const until = from + Math.max(startAverage * fit.timeConstant, 1.01 * width);
  let count = 0;
  while (count < time.length && (time[count] ?? Number.NaN) <= until) count++;
  if (count === 0) return null;
  const weights = new Float64Array(time.length).fill(1 / count, 0, count);
  return {
    time,
    steps: stepsBetween(time.map(positionOf)),
    before,
    weights,
    at: dot(weights, time),
    mean: dot(weights, value),
    from: atHeatOff ? 'heat-off' : 'window-start',
  };
}

/**
 * How far the fitted curve, carried back to the start, lies above the reading there: the logarithm of the ratio
 * of the two excesses over the ambient. For a sphere that conducts poorly this is ln C1 of the series solution.
 *
 * @returns null where the window starts with the heat going off, or the moment is not known
 */
export function backExtrapolation(fit: DecayFit, start: Start): Found | null {
  if (start.from !== 'heat-off' || start.before === 0) return null;
  const x = (start.at - fit.start) / fit.timeConstant;
  const carried = fit.amplitude * Math.exp(-x);
  const drifted = (start.at - fit.driftOrigin) / fit.geometry.window;
  const read = start.mean - ambientAt(fit, start.at);
  if (!(read / carried > 0)) return null;
  const response = responseOf(fit.geometry, [x, 1 / fit.amplitude, 1 / read, drifted / read]);
  return {
    value: Math.log(carried / read),
    standardUncertainty: Math.sqrt(extendedVariance(fit, start, response, scaled(start.weights, -1 / read))),
  };
}

/**
 * Time from the start to 90 % of the fall over time to 50 %: log2(10) for one exponential. The crossings are
 * those of the readings themselves, averaged about each crossing; the fit gives their slope and the ambient.
 *
 * @param linger standard uncertainty of the moment at which the fall begins, s
 * @returns null where the readings do not go far enough
 */
export function ratio90to50(fit: DecayFit, start: Start, linger: number): Found | null {
  const excess = start.mean - ambientAt(fit, start.at);
  const half = crossing(fit, start, excess, 0.5, aboutHalf);
  const tenth = crossing(fit, start, excess, 0.1, aboutTenth);
  if (half === null || tenth === null || !(half.after > 0)) return null;
  const value = tenth.after / half.after;
  const weights = scaled(tenth.weights, 1 / tenth.after);
  const halfWeights = scaled(half.weights, 1 / half.after);
  for (let i = 0; i < weights.length; i++) {
    weights[i] = (weights[i] ?? Number.NaN) - (halfWeights[i] ?? Number.NaN);
  }
  const gradient = tenth.gradient.map((g, j) => g / tenth.after - (half.gradient[j] ?? 0) / half.after);
  const variance =
    extendedVariance(fit, start, responseOf(fit.geometry, gradient), weights) +
    (linger * (1 / tenth.after - 1 / half.after)) ** 2;
  return { value, standardUncertainty: value * Math.sqrt(variance) };
}

interface Crossing {
  /** Time from the start, s. */
  readonly after: number;
  /** Its change per K of each block, and with the parameters. */
  readonly weights: Float64Array;
  readonly gradient: readonly number[];
}

function crossing(
  fit: DecayFit,
  start: Start,
  excess: number,
  fraction: number,
  reach: number,
): Crossing | null {
  const { timeConstant } = fit;
  const level = fraction * excess;
  if (!(level / fit.amplitude > 0)) return null;
  const expected = fit.start + timeConstant * Math.log(fit.amplitude / level);
  const near: number[] = [];
  start.time.forEach((t, i) => {
    if (i >= start.before && Math.abs(t - expected) <= reach * timeConstant) near.push(i);
  });
  const last = start.time[start.time.length - 1] ?? Number.NaN;
  if (near.length === 0 || last < expected + (reach / 2) * timeConstant) return null;
  // Of the curve against the level, which drifts with the ambient.
  const slope = -level / timeConstant;
  const meanResidual =
    near.reduce((sum, i) => sum + (fit.residual[i - start.before] ?? Number.NaN), 0) / near.length;
  const weights = scaled(start.weights, fraction / slope);
  for (const i of near) weights[i] = (weights[i] ?? 0) - 1 / near.length / slope;
  const window = fit.geometry.window;
  const drifted = (expected - fit.driftOrigin) / window - (fraction * (start.at - fit.driftOrigin)) / window;
  return {
    after: expected - meanResidual / slope - start.at,
    weights,
    gradient: [0, 0, (1 - fraction) / slope, drifted / slope],
  };
}

/** Time constant of the first half of the fall over that from the half to the tenth: 1 for one exponential. */
export function earlyOverLate(fit: DecayFit): Found | null {
  const early = partialFit(fit, 0, Math.LN2);
  const late = partialFit(fit, Math.LN2, Math.log(10));
  if (early === null || late === null) return null;
  const response = responseOf(fit.geometry, [
    0,
    0,
    -(sum(early.weights) - sum(late.weights)),
    -(dotDrift(fit, early.weights) - dotDrift(fit, late.weights)),
  ]);
  const blocks = response.blocks.map(
    (w, i) => w + (early.weights[i] ?? Number.NaN) - (late.weights[i] ?? Number.NaN),
  );
  const whole: Response = { ...response, blocks };
  const priors = priorVariance(fit.geometry, whole);
  const variance =
    armaCovariance(fit.noise, stepsBetween(fit.geometry.positions), blocks, blocks) +
    priors.ambient +
    priors.drift;
  const value = Math.exp(early.lnTimeConstant - late.lnTimeConstant);
  return { value, standardUncertainty: value * Math.sqrt(Math.max(0, variance)) };
}

/** The exponential through a part of the decay, with ambient and drift as the whole fit has them. */
function partialFit(
  fit: DecayFit,
  from: number,
  to: number,
): { lnTimeConstant: number; weights: Float64Array } | null {
  const inside: number[] = [];
  fit.time.forEach((t, i) => {
    const x = (t - fit.start) / fit.timeConstant;
    if (x >= from && x < to) inside.push(i);
  });
  const lastX = ((fit.time[fit.time.length - 1] ?? Number.NaN) - fit.start) / fit.timeConstant;
  if (inside.length < fewestInPart || lastX < from + 0.6 * (to - from)) return null;
  const x = Float64Array.from(inside, (i) => (fit.time[i] ?? Number.NaN) - fit.start);
  const y = Float64Array.from(inside, (i) => {
    const value = (fit.fitted[i] ?? Number.NaN) + (fit.residual[i] ?? Number.NaN);
    return value - ambientAt(fit, fit.time[i] ?? Number.NaN);
  });
  const problem: CurveProblem = {
    x,
    y,
    d: x,
    ambient: { value: 0, precision: 1e9 * inside.length },
    drift: null,
    weightVariance: 1,
  };
  const curve = fitCurve(problem, fit.timeConstant);
  if (curve === null) return null;
  const geometry = {
    ...fit.geometry,
    jacobian: curve.jacobian,
    hessian: curve.hessian,
  };
  const part = responseOf(geometry, [1, 0, 0]).blocks;
  const weights = new Float64Array(fit.time.length);
  inside.forEach((i, k) => {
    weights[i] = part[k] ?? Number.NaN;
  });
  return { lnTimeConstant: curve.lnTimeConstant, weights };
}

/** Variance of a quantity that answers to the fit's parameters and to readings before and in the window. */
function extendedVariance(fit: DecayFit, start: Start, response: Response, direct: Float64Array): number {
  const weights = new Float64Array(direct);
  response.blocks.forEach((w, i) => {
    weights[start.before + i] = (weights[start.before + i] ?? Number.NaN) + w;
  });
  const priors = priorVariance(fit.geometry, response);
  const fromNoise = armaCovariance(fit.noise, start.steps, weights, weights);
  return Math.max(0, fromNoise) + priors.ambient + priors.drift;
}

function ambientAt(fit: DecayFit, time: number): number {
  return fit.ambient + fit.drift * (time - fit.driftOrigin);
}

function dotDrift(fit: DecayFit, weights: Float64Array): number {
  return dot(weights, fit.geometry.jacobian[3] ?? new Float64Array(weights.length));
}

function sum(values: Float64Array): number {
  return values.reduce((a, b) => a + b, 0);
}

function scaled(values: Float64Array, factor: number): Float64Array {
  return values.map((value) => value * factor);
}
