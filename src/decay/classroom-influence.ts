import { at } from './segment-series.ts';
import type { CutBlocks } from './window.ts';

/**
 * How an estimate of ln tau answers to what it was made from: the first-order terms from which its uncertainty
 * is made. All per kelvin (drift: per kelvin a second).
 */
export interface Influence {
  /** By each block of the window; zero for those that are not used. */
  readonly blocks: Float64Array;
  /** By the ambient that is taken off, 1/K. */
  readonly ambient: number;
  /** By a drift since the ambient was read, s/K. */
  readonly drift: number;
  /** By the temperature of the start, 1/K. */
  readonly start: number;
}

/** A value and its influences. */
export interface LinearEstimate {
  /** s */
  readonly value: number;
  readonly influence: Influence;
}

/** What the logarithm is taken of: ln((T − ambient)/(start temperature − ambient)). */
export interface Scale {
  readonly startTime: number;
  readonly startTemperature: number;
  readonly ambient: number;
  /** Time at which the ambient was read, s. */
  readonly ambientTime: number;
}

/**
 * Which blocks have a fitted error fraction between two limits. The fitted curve decides, not the readings: a
 * choice by noisy values bends the ends of the window.
 */
export function blocksBetween(
  window: CutBlocks,
  fraction: (time: number) => number,
  upper: number,
  lower: number,
): number[] {
  const chosen: number[] = [];
  for (let i = 0; i < window.length; i++) {
    const g = fraction(at(window.time, i));
    if (g < upper && g > lower) chosen.push(i);
  }
  return chosen;
}

interface Point {
  readonly index: number;
  /** Time from the start, s. */
  readonly t: number;
  /** ln of the error fraction. */
  readonly y: number;
  /** Error fraction. */
  readonly g: number;
  /** Time since the ambient was read, s. */
  readonly since: number;
}

function pointsOf(window: CutBlocks, chosen: readonly number[], scale: Scale): Point[] {
  const step = scale.startTemperature - scale.ambient;
  return chosen
    .map((index) => {
      const time = at(window.time, index);
      const g = (at(window.value, index) - scale.ambient) / step;
      return { index, t: time - scale.startTime, y: Math.log(g), g, since: time - scale.ambientTime };
    })
    .filter((point) => point.g > 0);
}

/**
 * Influences of an estimate whose ln changes by `weights` per unit of the logarithm at each point: a kelvin on
 * a block changes the logarithm there by 1/(G·step), a kelvin on the ambient every one by −(1/G − 1)/step, a
 * kelvin on the start every one by −1/step.
 */
function influenceOf(
  window: CutBlocks,
  points: readonly Point[],
  weights: readonly number[],
  step: number,
): Influence {
  const blocks = new Float64Array(window.length);
  let ambient = 0;
  let drift = 0;
  let start = 0;
  points.forEach((point, k) => {
    const weight = at(weights, k);
    blocks[point.index] = weight / (point.g * step);
    ambient -= (weight * (1 / point.g - 1)) / step;
    drift += (weight * point.since) / (point.g * step);
    start -= weight / step;
  });
  return { blocks, ambient, drift, start };
}

/**
 * Slope of the logarithm through the origin: tau = −Σt²/Σt y.
 *
 * @returns null where there are fewer than two blocks or the slope is not negative
 */
export function originEstimate(
  window: CutBlocks,
  chosen: readonly number[],
  scale: Scale,
): LinearEstimate | null {
  const points = pointsOf(window, chosen, scale);
  const squares = points.reduce((sum, p) => sum + p.t * p.t, 0);
  const products = points.reduce((sum, p) => sum + p.t * p.y, 0);
  const value = -squares / products;
  if (points.length < 2 || !(value > 0)) return null;
  const weights = points.map((p) => (value * p.t) / squares);
  return {
    value,
    influence: influenceOf(window, points, weights, scale.startTemperature - scale.ambient),
  };
}

/**
 * Slope of the logarithm with a free intercept.
 *
 * @returns null where there are fewer than three blocks or the slope is not negative
 */
export function interceptEstimate(
  window: CutBlocks,
  chosen: readonly number[],
  scale: Scale,
): LinearEstimate | null {
  const points = pointsOf(window, chosen, scale);
  const middle = points.reduce((sum, p) => sum + p.t, 0) / points.length;
  const squares = points.reduce((sum, p) => sum + (p.t - middle) ** 2, 0);
  const products = points.reduce((sum, p) => sum + (p.t - middle) * p.y, 0);
  const value = -squares / products;
  if (points.length < 3 || !(value > 0)) return null;
  const weights = points.map((p) => (value * (p.t - middle)) / squares);
  const { blocks, ambient, drift } = influenceOf(
    window,
    points,
    weights,
    scale.startTemperature - scale.ambient,
  );
  return { value, influence: { blocks, ambient, drift, start: 0 } };
}

/**
 * Time from the start to 36.8 %: a line through the logarithm close to −1, and where it passes −1.
 *
 * @param chosen blocks about the crossing
 * @returns null where there are fewer than three blocks or the line does not fall
 */
export function crossingEstimate(
  window: CutBlocks,
  chosen: readonly number[],
  scale: Scale,
): LinearEstimate | null {
  const points = pointsOf(window, chosen, scale);
  const n = points.length;
  const middle = points.reduce((sum, p) => sum + p.t, 0) / n;
  const level = points.reduce((sum, p) => sum + p.y, 0) / n;
  const squares = points.reduce((sum, p) => sum + (p.t - middle) ** 2, 0);
  const slope = points.reduce((sum, p) => sum + (p.t - middle) * p.y, 0) / squares;
  const value = middle + (-1 - level) / slope;
  if (n < 3 || !(slope < 0) || !(value > 0)) return null;
  // d t* = −(d level)/slope − (t* − middle)/slope · (d slope), as a part of t*.
  const weights = points.map(
    (p) => ((-1 / slope) * (1 / n + ((value - middle) * (p.t - middle)) / squares)) / value,
  );
  return {
    value,
    influence: influenceOf(window, points, weights, scale.startTemperature - scale.ambient),
  };
}
