import type { RoughDecay } from './segment-exponential.ts';
import { at, firstAtOrAfter, type Series } from './segment-series.ts';

/** Shapes that the signal may have before the heat is off. */
export type Approach = 'straight' | 'exponential';

/** A break to try. */
export interface Break {
  /** When the heat goes off, s. */
  readonly time: number;
  /** Decay time of the hot stream, s; 0 where the step is clean. Not the time constant of the cooling. */
  readonly tail: number;
  readonly approach: Approach;
  /** How long the body is held at its level before the break, after a straight approach, s. */
  readonly held: number;
}

/** A break with the best temperature and slope for it. */
export interface FittedBreak extends Break {
  /** °C */
  readonly temperature: number;
  /** Sum of squared residuals, K². */
  readonly cost: number;
  /** How many points that sum is over. */
  readonly points: number;
}

/** Fits a break to the points from an index on; null where they do not determine it. */
export type BreakFit = (from: number, tried: Break) => FittedBreak | null;

/** An exponential approach is held at its level further than this many time constants before the break. */
const longestApproach = 3;

/**
 * Sums over all points from one on to the last, each in terms of the first point of its sum: `decaying[i]` is the sum
 * over k ≥ i of y_k e^(−rate (t_k − t_i)). So nothing can overflow, and late sums keep their digits.
 */
function sumsBehind({ time, length }: Series, rate: number, y: (k: number) => number): Float64Array {
  const decaying = new Float64Array(length + 1);
  let next = Number.NaN;
  let sum = 0;
  for (let i = length - 1; i >= 0; i--) {
    const own = at(time, i);
    sum = y(i) + (sum === 0 ? 0 : sum * Math.exp(-rate * (next - own)));
    decaying[i] = sum;
    next = own;
  }
  return decaying;
}

/** Sums over all points before one: the first entry is 0. */
function sumsBefore(length: number, y: (k: number) => number): Float64Array {
  const sums = new Float64Array(length + 1);
  for (let i = 0; i < length; i++) sums[i + 1] = at(sums, i) + y(i);
  return sums;
}

/** The parts of a break's normal equations: products of the columns for level and slope, and of them with the points. */
interface Products {
  readonly pp: number;
  readonly pm: number;
  readonly mm: number;
  readonly py: number;
  readonly my: number;
}

/**
 * Least squares for the temperature at a break and the slope before it. Both enter linearly: before the break as level
 * and (straight or bent) slope, behind it as free cooling and as what the dying stream adds. Breaks are tried by the
 * thousand on the same points: what a break needs of them are sums of powers before it and of exponentials behind it,
 * which are kept, so that one more break costs no run through the points.
 *
 * @param series the points
 * @param decay rough exponential of the cooling behind the break
 */
export function breakFits(series: Series, decay: RoughDecay): BreakFit {
  const { length, time } = series;
  const tau = decay.timeConstant;
  const origin = at(time, 0);
  const x = (k: number) => at(time, k) - origin;
  const y = (k: number) => at(series.value, k) - decay.ambient;
  const before = {
    x: sumsBefore(length, x),
    xx: sumsBefore(length, (k) => x(k) ** 2),
    y: sumsBefore(length, y),
    xy: sumsBefore(length, (k) => x(k) * y(k)),
    yy: sumsBefore(length, (k) => y(k) ** 2),
  };
  const one = () => 1;
  const free = {
    sum: sumsBehind(series, 1 / tau, one),
    square: sumsBehind(series, 2 / tau, one),
    y: sumsBehind(series, 1 / tau, y),
  };
  const streams = new Map<number, { square: Float64Array; product: Float64Array; y: Float64Array }>();
  const streamOf = (tail: number) => {
    const known = streams.get(tail);
    if (known !== undefined) return known;
    const made = {
      square: sumsBehind(series, 2 / tail, one),
      product: sumsBehind(series, 1 / tail + 1 / tau, one),
      y: sumsBehind(series, 1 / tail, y),
    };
    streams.set(tail, made);
    return made;
  };
  const between = (sums: Float64Array, from: number, to: number) => at(sums, to) - at(sums, from);

  /** Level and slope before the break: the body rises evenly to its level, and is held there. */
  const straight = (from: number, split: number, moment: number, held: number): Products => {
    const bend = Math.max(from, Math.min(split, firstAtOrAfter(time, moment - held)));
    const end = moment - held - origin;
    const n = bend - from;
    const sx = between(before.x, from, bend);
    return {
      pp: split - from,
      pm: sx - n * end,
      mm: between(before.xx, from, bend) - 2 * end * sx + n * end * end,
      py: between(before.y, from, split),
      my: between(before.xy, from, bend) - end * between(before.y, from, bend),
    };
  };

  /** Level and slope before the break: the body tends to a stream of a steady temperature. */
  const exponential = (from: number, split: number, moment: number): Products => {
    const bend = Math.max(
      from,
      Math.min(split, firstAtOrAfter(time, moment - tau * Math.log(1 + longestApproach))),
    );
    const held = bend - from;
    const n = split - bend;
    // Of e^(−(t − moment)/τ) from the bend to the break.
    const lead = Math.exp((moment - at(time, bend)) / tau);
    const step = n > 0 ? Math.exp((at(time, bend) - at(time, split)) / tau) : 1;
    const rest = (sums: Float64Array, power: number) =>
      n > 0 ? lead ** power * (at(sums, bend) - step ** power * at(sums, split)) : 0;
    const e = rest(free.sum, 1);
    const furthest = -longestApproach * tau;
    return {
      pp: split - from,
      pm: held * furthest + tau * (n - e),
      mm: held * furthest ** 2 + tau ** 2 * (n - 2 * e + rest(free.square, 2)),
      py: between(before.y, from, split),
      my: furthest * between(before.y, from, bend) + tau * (between(before.y, bend, split) - rest(free.y, 1)),
    };
  };

  /** Free cooling behind the break, and what a stream adds that dies away. */
  const behind = (split: number, moment: number, tail: number): Products => {
    const since = at(time, split) - moment;
    const f = Math.exp(-since / tau);
    const ff = f * f * at(free.square, split);
    const fy = f * at(free.y, split);
    if (!(tail > 0)) return { pp: ff, pm: 0, mm: 0, py: fy, my: 0 };
    const stream = streamOf(tail);
    const g = Math.exp(-since / tail);
    const gg = g * g * at(stream.square, split);
    const fg = f * g * at(stream.product, split);
    const gy = g * at(stream.y, split);
    // The stream's excess at the break is E = B + slope · tau; it adds E c (f − g).
    const c = tail / (tau - tail);
    return {
      pp: (1 + c) ** 2 * ff - 2 * c * (1 + c) * fg + c * c * gg,
      pm: tau * c * ((1 + c) * ff - (1 + 2 * c) * fg + c * gg),
      mm: tau * tau * c * c * (ff - 2 * fg + gg),
      py: (1 + c) * fy - c * gy,
      my: tau * c * (fy - gy),
    };
  };

  return (from, { time: moment, tail, approach, held }) => {
    const split = Math.max(from, firstAtOrAfter(time, moment));
    if (split - from < 2 || length - split < 3) return null;
    const left =
      approach === 'straight' ? straight(from, split, moment, held) : exponential(from, split, moment);
    const right = behind(split, moment, tail);
    const pp = left.pp + right.pp;
    const pm = left.pm + right.pm;
    const mm = left.mm + right.mm;
    const py = left.py + right.py;
    const my = left.my + right.my;
    const determinant = pp * mm - pm * pm;
    if (!(determinant > 1e-12 * pp * mm)) return null;
    const level = (py * mm - pm * my) / determinant;
    const slope = (pp * my - pm * py) / determinant;
    if (tail > 0 && level + slope * tau <= 0) return null;
    const cost = between(before.yy, from, length) - level * py - slope * my;
    return {
      time: moment,
      tail,
      approach,
      held,
      temperature: decay.ambient + level,
      cost: Math.max(0, cost),
      points: length - from,
    };
  };
}
