/** A curve with few enough points to draw, and how far the readings behind each point reach. */
export interface ThinCurve {
  readonly time: readonly number[];
  readonly value: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
}

/** Readings, or blocks of readings with their extremes. The arrays run in parallel, in order of time. */
export interface Curve {
  readonly time: ArrayLike<number>;
  readonly value: ArrayLike<number>;
  readonly low?: ArrayLike<number>;
  readonly high?: ArrayLike<number>;
}

/** Larger numbers than these are no times or temperatures, and would overflow when they are subtracted. */
const largest = 1e12;

/** Whether a number can be drawn. */
export function drawable(value: number | null | undefined): value is number {
  return typeof value === 'number' && Math.abs(value) <= largest;
}

/**
 * Averages a curve in equal stretches of time, and keeps the extremes of each stretch. Points that are not
 * finite are left out. A curve with no more points than wanted comes back as it is.
 *
 * @param most most points, at least 1
 */
export function thinCurve(curve: Curve, most: number): ThinCurve {
  const kept: number[] = [];
  for (let i = 0; i < curve.time.length; i++) {
    if (drawable(curve.time[i]) && drawable(curve.value[i])) kept.push(i);
  }
  const time: number[] = [];
  const value: number[] = [];
  const low: number[] = [];
  const high: number[] = [];
  const first = curve.time[kept[0] ?? 0] ?? 0;
  const last = curve.time[kept.at(-1) ?? 0] ?? 0;
  const width = kept.length > most && last > first ? (last - first) / most : 0;
  let cell = -1;
  let n = 0;
  for (const i of kept) {
    const t = curve.time[i] ?? 0;
    const v = curve.value[i] ?? 0;
    const lowest = curve.low?.[i];
    const highest = curve.high?.[i];
    const l = drawable(lowest) ? lowest : v;
    const h = drawable(highest) ? highest : v;
    const own = width > 0 ? Math.min(Math.floor((t - first) / width), most - 1) : cell + 1;
    const k = time.length - 1;
    if (own === cell && k >= 0) {
      n++;
      time[k] = (time[k] ?? 0) + (t - (time[k] ?? 0)) / n;
      value[k] = (value[k] ?? 0) + (v - (value[k] ?? 0)) / n;
      low[k] = Math.min(low[k] ?? l, l);
      high[k] = Math.max(high[k] ?? h, h);
      continue;
    }
    cell = own;
    n = 1;
    time.push(t);
    value.push(v);
    low.push(l);
    high.push(h);
  }
  return { time, value, low, high };
}

/**
 * Every so-many-th of a list, ends included.
 *
 * @param most how many are left at most, at least 2
 */
export function sparse<T>(list: readonly T[], most: number): readonly T[] {
  if (list.length <= most) return list;
  const step = (list.length - 1) / (most - 1);
  const picked: T[] = [];
  for (let k = 0; k < most; k++) {
    const item = list[Math.round(k * step)];
    if (item !== undefined) picked.push(item);
  }
  return picked;
}

/**
 * Least and greatest of some numbers, widened by a fraction of their span; null if there is none. The span is
 * never nothing: equal numbers get a little room on both sides, so that an axis can be made of it.
 */
export function extent(values: Iterable<number>, widen = 0): readonly [number, number] | null {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const v of values) {
    if (v < low) low = v;
    if (v > high) high = v;
  }
  if (low > high) return null;
  const size = Math.max(Math.abs(low), Math.abs(high), 1e-6);
  const span = high - low;
  if (span < 1e-9 * size) return [low - 1e-3 * size, high + 1e-3 * size];
  return [low - widen * span, high + widen * span];
}
