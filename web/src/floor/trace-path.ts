import type { TrialView } from '../../../src/server/contract/index.ts';

/** Of the picture, in its own units. */
export const traceSize = { width: 240, height: 64 } as const;
const edge = 3;
/** A span that is smaller shows nothing but noise, K. */
const smallestSpan = 5;

/** A trial as far as it is drawn. */
export type DrawnTrial = Pick<TrialView, 'series' | 'time' | 'heatOff'>;

/** What is drawn of a trial: the trace, and where the heat went off. */
export interface TracePicture {
  readonly path: string;
  readonly heatOff: number | null;
}

/** The trace of a trial as far as it goes; null where there is nothing to draw. */
export function tracePicture({ series, time, heatOff }: DrawnTrial): TracePicture | null {
  const points = series.time.flatMap((t, i) => {
    const value = series.temperature[i] ?? null;
    return value === null ? [] : [{ t, value }];
  });
  if (points.length < 2) return null;
  const begin = points[0]?.t ?? 0;
  const length = Math.max(time - begin, 1e-9);
  const low = points.reduce((least, { value }) => Math.min(least, value), Number.POSITIVE_INFINITY);
  const high = points.reduce((most, { value }) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  const span = Math.max(high - low, smallestSpan);
  const x = (t: number) => edge + ((t - begin) / length) * (traceSize.width - 2 * edge);
  const y = (value: number) =>
    traceSize.height - edge - ((value - low) / span) * (traceSize.height - 2 * edge);
  const path = points
    .map(({ t, value }, i) => `${i === 0 ? 'M' : 'L'}${x(t).toFixed(1)},${y(value).toFixed(1)}`)
    .join('');
  return { path, heatOff: heatOff === null || heatOff < begin ? null : x(heatOff) };
}
