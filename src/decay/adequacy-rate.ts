import type { AdequacyInput } from './adequacy-types.ts';
import type { DecayFit } from './fit-types.ts';
import { at } from './segment-series.ts';

/** A cooling whose rate changed once. */
export interface RateChange {
  /** s */
  readonly time: number;
  /** Rate after the change over the rate before it, less 1. */
  readonly share: number;
}

/** Points that the two shapes are held against: means of neighbouring blocks. */
interface Points {
  /** First point, in fitted time constants from the start of the fit. */
  readonly from: number;
  /** Time from the first point in fitted time constants. */
  readonly x: Float64Array;
  /** Excess over the ambient, K. */
  readonly y: Float64Array;
}

/** Sum of squares that the best curve of a kind leaves, K². */
interface Best<T> {
  readonly squares: number;
  readonly shape: T;
}

interface Change {
  /** Rates in units of the fitted one. */
  readonly before: number;
  readonly after: number;
  /** Time constants from the start. */
  readonly place: number;
}

const mostPoints = 200;
/** A second exponential must leave this many times the squares of a change of the rate. */
const clearly = 1.3;
/** Later changes are lost in the noise. */
const lastPlace = 3;
const rounds = 8;

/**
 * The change of the cooling rate, where one describes the cooling clearly better than a second exponential with
 * as many parameters does: least squares of both on a grid that is refined about its best point.
 *
 * @param early blocks from the heat going off to those of the fit, in which a change is looked for as well
 * @returns null where a second exponential does as well
 */
export function rateChange(fit: DecayFit, early: AdequacyInput['early']): RateChange | null {
  const own = changeIn(fit, pointsOf(fit, null));
  if (own !== null || early === null || early.time.length === 0) return own;
  // Soon after the heat is off a body may answer late, which looks like a rate that rises; it never falls by that.
  const whole = changeIn(fit, pointsOf(fit, early));
  return whole !== null && whole.share < 0 ? whole : null;
}

function changeIn(fit: DecayFit, points: Points): RateChange | null {
  if (points.x.length < 12) return null;
  const change = bestChange(points);
  const second = bestSecond(points);
  const { before, after, place } = change.shape;
  if (!(second > clearly * change.squares)) return null;
  return { time: fit.start + (points.from + place) * fit.timeConstant, share: after / before - 1 };
}

function pointsOf(fit: DecayFit, early: AdequacyInput['early']): Points {
  const before = early?.time.length ?? 0;
  const n = before + fit.time.length;
  const timeOf = (i: number) => (early !== null && i < before ? at(early.time, i) : at(fit.time, i - before));
  const temperatureOf = (i: number) =>
    early !== null && i < before
      ? at(early.value, i)
      : at(fit.fitted, i - before) + at(fit.residual, i - before);
  const from = (timeOf(0) - fit.start) / fit.timeConstant;
  const group = Math.max(1, Math.ceil(n / mostPoints));
  const length = Math.floor(n / group);
  const x = new Float64Array(length);
  const y = new Float64Array(length);
  // The ambient that was put in: the fitted one has been drawn along by what is looked for.
  const ambient = fit.geometry.ambientPrecision > 0 ? fit.ambient + fit.geometry.ambientPull : fit.ambient;
  for (let k = 0; k < length; k++) {
    for (let i = k * group; i < (k + 1) * group; i++) {
      x[k] = at(x, k) + ((timeOf(i) - fit.start) / fit.timeConstant - from) / group;
      y[k] = at(y, k) + (temperatureOf(i) - ambient) / group;
    }
  }
  return { from, x, y };
}

function bestChange(points: Points): Best<Change> {
  const end = Math.min(lastPlace, at(points.x, points.x.length - 1));
  let shape: Change = { before: 1, after: 1, place: end / 2 };
  let squares = Number.POSITIVE_INFINITY;
  let width = { rate: Math.log(6), place: end / 2 };
  for (let round = 0; round < rounds; round++) {
    const centre = shape;
    const half = round === 0 ? 6 : 3;
    for (let p = -half; p <= half; p++) {
      const place = centre.place + (width.place * p) / half;
      if (place <= 0 || place >= end) continue;
      for (let b = -half; b <= half; b++) {
        const before = centre.before * Math.exp((width.rate * b) / half);
        for (let a = -half; a <= half; a++) {
          const after = centre.after * Math.exp((width.rate * a) / half);
          const left = squaresOfChange(points, before, after, place);
          if (left < squares) {
            squares = left;
            shape = { before, after, place };
          }
        }
      }
    }
    width = { rate: width.rate / 2, place: width.place / 2 };
  }
  return { squares, shape };
}

function squaresOfChange({ x, y }: Points, before: number, after: number, place: number): number {
  let ee = 0;
  let ey = 0;
  let yy = 0;
  for (let i = 0; i < x.length; i++) {
    const later = Math.max(0, at(x, i) - place);
    const e = Math.exp(-before * (at(x, i) - later) - after * later);
    ee += e * e;
    ey += e * at(y, i);
    yy += at(y, i) ** 2;
  }
  return yy - (ey * ey) / ee;
}

function bestSecond(points: Points): number {
  let squares = Number.POSITIVE_INFINITY;
  let centre = { one: 1, two: 1 };
  let width = Math.log(20);
  for (let round = 0; round < rounds; round++) {
    const about = centre;
    const half = round === 0 ? 16 : 5;
    for (let a = -half; a <= half; a++) {
      const one = about.one * Math.exp((width * a) / half);
      for (let b = -half; b <= half; b++) {
        const two = about.two * Math.exp((width * b) / half);
        const left = squaresOfSecond(points, one, two);
        if (left < squares) {
          squares = left;
          centre = { one, two };
        }
      }
    }
    width /= 2.5;
  }
  return squares;
}

function squaresOfSecond({ x, y }: Points, one: number, two: number): number {
  let pp = 0;
  let pq = 0;
  let qq = 0;
  let py = 0;
  let qy = 0;
  let yy = 0;
  for (let i = 0; i < x.length; i++) {
    const p = Math.exp(-one * at(x, i));
    const q = Math.exp(-two * at(x, i));
    pp += p * p;
    pq += p * q;
    qq += q * q;
    py += p * at(y, i);
    qy += q * at(y, i);
    yy += at(y, i) ** 2;
  }
  const determinant = pp * qq - pq * pq;
  if (!(determinant > 1e-9 * pp * qq)) return yy - (py * py) / pp;
  const a = (py * qq - qy * pq) / determinant;
  const b = (qy * pp - py * pq) / determinant;
  return yy - a * py - b * qy;
}
