import { at } from './segment-series.ts';

/** A turn of the signal: a top or a bottom between moves larger than the threshold. */
export interface Pivot {
  readonly index: number;
  readonly kind: 'top' | 'bottom';
}

/** A move from one pivot to the next. */
export interface Leg {
  readonly from: number;
  readonly to: number;
  /** Change of the value from first to last, signed. */
  readonly change: number;
}

/**
 * Turning points of a signal when every reversal smaller than a threshold is ignored. The first and the last
 * extreme belong to it. Empty where the signal nowhere moves by more than the threshold.
 *
 * @param values smoothed signal
 * @param threshold smallest reversal that counts, > 0, in the unit of the values
 */
export function turningPoints(values: Float64Array, threshold: number): Pivot[] {
  const pivots: Pivot[] = [];
  let lowest = 0;
  let highest = 0;
  let direction: 'up' | 'down' | null = null;
  for (let i = 1; i < values.length; i++) {
    const x = at(values, i);
    if (x > at(values, highest)) highest = i;
    if (x < at(values, lowest)) lowest = i;
    if (direction !== 'down' && x < at(values, highest) - threshold) {
      pivots.push({ index: highest, kind: 'top' });
      direction = 'down';
      lowest = i;
    } else if (direction !== 'up' && x > at(values, lowest) + threshold) {
      pivots.push({ index: lowest, kind: 'bottom' });
      direction = 'up';
      highest = i;
    }
  }
  if (direction === 'up') pivots.push({ index: highest, kind: 'top' });
  if (direction === 'down') pivots.push({ index: lowest, kind: 'bottom' });
  return pivots;
}

/** The moves between consecutive turning points. */
export function legsBetween(values: Float64Array, pivots: readonly Pivot[]): Leg[] {
  const legs: Leg[] = [];
  for (let i = 1; i < pivots.length; i++) {
    const from = pivots[i - 1]?.index ?? 0;
    const to = pivots[i]?.index ?? 0;
    legs.push({ from, to, change: at(values, to) - at(values, from) });
  }
  return legs;
}
