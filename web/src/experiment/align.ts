/** ln of the error fraction (y) against time over the time constant (x). */
export interface StripPoints {
  readonly x: readonly number[];
  readonly y: readonly number[];
}

/**
 * Moves a strip in time so that x counts from the moment at which the line of slope −1 through its points has the
 * error fraction 1: recordings that were cut at different error fractions then share one line. The points weigh by
 * the square of their error fraction, for the noise of a reading is the same at every height.
 */
export function aligned({ x, y }: StripPoints): StripPoints {
  let weights = 0;
  let sum = 0;
  for (const [i, px] of x.entries()) {
    const py = y[i] ?? Number.NaN;
    if (!Number.isFinite(px + py)) continue;
    const weight = Math.exp(2 * py);
    weights += weight;
    sum += weight * (px + py);
  }
  const start = weights > 0 ? sum / weights : 0;
  return { x: x.map((px) => px - start), y };
}
