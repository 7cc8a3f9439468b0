import { traceSketch } from '../class/index.ts';
import type { Decay } from '../decay/index.ts';
import { startOf } from './strip.ts';

/** Parts of their root mean square to which residuals are kept: finer than any noise repeats. */
const parts = 100;

/**
 * What the fit leaves over, as it is kept: residuals in parts of their root mean square, whole numbers; null where a cell
 * is empty. Two files of one trace are known by it.
 *
 * @returns null without a time constant, or where nothing is left over
 */
export function decaySketch({
  points,
  timeConstant,
}: Pick<Decay, 'points' | 'timeConstant'>): (number | null)[] | null {
  if (timeConstant === null) return null;
  const start = startOf(points, timeConstant.value);
  const { residuals } = traceSketch(
    points.map(({ time, residual }) => ({ x: (time - start) / timeConstant.value, residual })),
  );
  const there = residuals.filter(Number.isFinite);
  const size = Math.sqrt(there.reduce((sum, x) => sum + x * x, 0) / there.length);
  if (!(size > 0)) return null;
  return residuals.map((x) => (Number.isFinite(x) ? Math.round((parts * x) / size) : null));
}
