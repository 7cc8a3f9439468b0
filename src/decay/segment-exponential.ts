import { at, type Series, thinned } from './segment-series.ts';

/** A first, rough reading of a cooling: x(t) = ambient + excess · exp(−(t − origin)/timeConstant). */
export interface RoughDecay {
  /** s */
  readonly timeConstant: number;
  /** °C */
  readonly ambient: number;
  /** K at the origin. */
  readonly excess: number;
  /** s */
  readonly origin: number;
  /** Standard deviation of the points about the curve, K. */
  readonly scatter: number;
}

/** What is known of the ambient from elsewhere: a level and how far to trust it, K. */
export interface AmbientPrior {
  readonly value: number;
  readonly uncertainty: number;
}

/** A trial of one time constant, the two linear parameters eliminated (variable projection). */
interface Projection {
  readonly ambient: number;
  readonly excess: number;
  readonly cost: number;
  readonly squares: number;
}

/** More points than this do not place marks better. */
const mostPoints = 600;

const noPrior: AmbientPrior = { value: 0, uncertainty: Number.POSITIVE_INFINITY };

/**
 * One exponential through points of a series by least squares, good enough to place marks with; no claim is
 * made about its uncertainty. Time constants from two cells to twenty times the stretch are searched on a
 * logarithmic grid, the best is refined by golden section.
 *
 * @param series points
 * @param from first index
 * @param to index behind the last
 * @param prior what the baseline says of the ambient, null for nothing
 * @param noise standard deviation of a point, K, for the weight of the prior
 * @returns null where fewer than four points or no decaying exponential fits
 */
export function roughDecay(
  series: Series,
  from: number,
  to: number,
  prior: AmbientPrior | null,
  noise: number,
): RoughDecay | null {
  if (to - from < 4) return null;
  const points = thinned(series, from, to, mostPoints);
  const origin = at(points.time, 0);
  const length = at(points.time, points.length - 1) - origin;
  const averaged = (to - from) / points.length;
  const weight = noise ** 2 / averaged / (prior ?? noPrior).uncertainty ** 2;
  const projected = projections(points, (prior ?? noPrior).value, weight);
  const trial = (logTau: number) => projected(Math.exp(logTau));
  const lowest = Math.log(Math.min(2 * series.width, length / 4));
  const highest = Math.log(20 * length);
  const steps = 40;
  let best = lowest;
  let bestCost = Number.POSITIVE_INFINITY;
  for (let i = 0; i <= steps; i++) {
    const logTau = lowest + ((highest - lowest) * i) / steps;
    const { cost } = trial(logTau);
    if (cost < bestCost) {
      bestCost = cost;
      best = logTau;
    }
  }
  const span = (highest - lowest) / steps;
  best = goldenSection((logTau) => trial(logTau).cost, best - span, best + span);
  const result = trial(best);
  if (!(result.excess > 0) || !Number.isFinite(result.cost)) return null;
  return {
    timeConstant: Math.exp(best),
    ambient: result.ambient,
    excess: result.excess,
    origin,
    scatter: Math.sqrt(result.squares / Math.max(1, points.length - 3)),
  };
}

/** Spacings that differ by no more than this part of themselves count as equal. */
const sameSpacing = 1e-9;

/**
 * Trials of time constants on the same points. What does not depend on the time constant is summed up once. The
 * exponential goes from point to point by a factor, which is one and the same wherever points are equally spaced.
 */
function projections(
  series: Series,
  priorValue: number,
  weight: number,
): (timeConstant: number) => Projection {
  const n = series.length;
  const shift = at(series.value, 0);
  const values = series.value.map((value) => value - shift);
  const usual = series.width;
  const spacings = new Float64Array(n);
  let y1 = 0;
  let y2 = 0;
  for (let i = 0; i < n; i++) {
    const y = at(values, i);
    y1 += y;
    y2 += y * y;
    const spacing = i === 0 ? 0 : at(series.time, i) - at(series.time, i - 1);
    spacings[i] = Math.abs(spacing - usual) < sameSpacing * usual ? usual : spacing;
  }
  const p = priorValue - shift;
  const a11 = n + weight;
  const r1 = y1 + weight * p;
  return (timeConstant) => {
    const usualFactor = Math.exp(-usual / timeConstant);
    let e = 1;
    let e1 = 0;
    let e2 = 0;
    let ey = 0;
    for (let i = 0; i < n; i++) {
      const spacing = at(spacings, i);
      e *= spacing === usual ? usualFactor : Math.exp(-spacing / timeConstant);
      e1 += e;
      e2 += e * e;
      ey += e * at(values, i);
    }
    const determinant = a11 * e2 - e1 * e1;
    if (!(determinant > 1e-12 * a11 * e2)) {
      return {
        ambient: Number.NaN,
        excess: Number.NaN,
        cost: Number.POSITIVE_INFINITY,
        squares: Number.NaN,
      };
    }
    const a = (r1 * e2 - e1 * ey) / determinant;
    const b = (a11 * ey - e1 * r1) / determinant;
    const squares = Math.max(0, y2 - 2 * a * y1 - 2 * b * ey + n * a * a + 2 * a * b * e1 + b * b * e2);
    const offPrior = weight > 0 ? weight * (a - p) ** 2 : 0;
    return { ambient: a + shift, excess: b, cost: squares + offPrior, squares };
  };
}

/** Place of the smallest value of a function with one minimum between two bounds (golden section). */
function goldenSection(f: (x: number) => number, from: number, to: number, rounds = 30): number {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let low = from;
  let high = to;
  let left = high - ratio * (high - low);
  let right = low + ratio * (high - low);
  let fLeft = f(left);
  let fRight = f(right);
  for (let round = 0; round < rounds; round++) {
    if (fLeft <= fRight) {
      high = right;
      right = left;
      fRight = fLeft;
      left = high - ratio * (high - low);
      fLeft = f(left);
    } else {
      low = left;
      left = right;
      fLeft = fRight;
      right = low + ratio * (high - low);
      fRight = f(right);
    }
  }
  return (low + high) / 2;
}
