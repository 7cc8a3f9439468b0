import { at, type Series } from './segment-series.ts';

/** A rise as its onset needs it. */
export interface Rise {
  /** First index that may belong to it. */
  readonly from: number;
  /** An index at which it is past a third of its height. */
  readonly to: number;
  /** Level that it starts from, °C. */
  readonly bottom: number;
  /** From the bottom to its top, K. */
  readonly height: number;
}

/**
 * When a rise began, s: from its last passage below a tenth of its height, back to where it has hardly begun,
 * and there the break of a constant and a rise by least squares. The rise is straight (hot stream at once) or
 * square (a stream that warms up slowly), whichever leaves less.
 *
 * @param series points
 * @param smooth running median of their values
 * @param rise where to look
 * @param noise standard deviation of a point, K
 */
export function riseOnset(series: Series, smooth: Float64Array, rise: Rise, noise: number): number {
  const { from, to, bottom, height } = rise;
  let tenth = to;
  while (tenth > from && at(smooth, tenth) > bottom + 0.1 * height) tenth--;
  const trifle = bottom + Math.min(0.1 * height, Math.max(0.03 * height, 5 * noise));
  let start = tenth;
  while (start > from && at(smooth, start) > trifle) start--;
  if (start <= from) return at(series.time, from);
  return breakOfHinge(series, from, start, tenth, height);
}

/** Where a constant turns into a rise, among the points from a stretch before `start` to some way up. */
function breakOfHinge(series: Series, from: number, start: number, tenth: number, height: number): number {
  const reach = Math.max(10, 2 * (tenth - start), Math.round((tenth - from) / 3));
  const lo = Math.max(from, start - reach);
  // Some way up the rise gives the line its direction even where the rise is steep.
  let hi = tenth;
  const bottom = at(series.value, lo);
  while (hi < series.length - 1 && hi < tenth + 3 && at(series.value, hi) < bottom + 0.3 * height) hi++;
  let best = at(series.time, start);
  let least = Number.POSITIVE_INFINITY;
  const stride = Math.max(1, Math.floor((hi - lo) / 200));
  for (const power of [1, 2]) {
    for (let h = lo; h < hi; h += stride) {
      const cost = hingeCost(series, lo, hi + 1, at(series.time, h), power);
      if (cost < least) {
        least = cost;
        best = at(series.time, h);
      }
    }
  }
  return best;
}

function hingeCost(series: Series, lo: number, hi: number, hinge: number, power: number): number {
  const n = hi - lo;
  let r1 = 0;
  let r2 = 0;
  let y1 = 0;
  let y2 = 0;
  let ry = 0;
  const shift = at(series.value, lo);
  for (let i = lo; i < hi; i++) {
    const r = Math.max(0, at(series.time, i) - hinge) ** power;
    const y = at(series.value, i) - shift;
    r1 += r;
    r2 += r * r;
    y1 += y;
    y2 += y * y;
    ry += r * y;
  }
  const sxx = r2 - (r1 * r1) / n;
  const sxy = ry - (r1 * y1) / n;
  const syy = y2 - (y1 * y1) / n;
  return sxx > 0 ? syy - (sxy * sxy) / sxx : Number.POSITIVE_INFINITY;
}
