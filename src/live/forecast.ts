import type { EndForecast } from '../decay/index.ts';
import type { ExpectedTimeConstant } from '../experiment/index.ts';
import { usualCoverage } from '../quantity/index.ts';
import type { Forecast } from './types.ts';

/** What is known of a cooling that goes on. Times in s. */
export interface ForecastFacts {
  /** Of the latest reading. */
  readonly time: number;
  /** By the fit of the cooling; null where none can tell yet. */
  readonly end: EndForecast | null;
  /** Time constant that was planned with; null where none is known. */
  readonly planned: ExpectedTimeConstant | null;
  /** When the body was hottest; null where that is not known. */
  readonly peak: number | null;
  /** Error fraction to be reached, between 0 and 1. */
  readonly endFraction: number;
}

/**
 * What a cooling will still take to its end fraction G: by its fit, else the multiple ln(1/G) of the planned time
 * constant from the peak on.
 *
 * @returns null where neither is known
 */
export function forecastOf({ time, end, planned, peak, endFraction }: ForecastFacts): Forecast | null {
  const left = (moment: number) => Math.max(0, moment - time);
  if (end !== null) {
    const [low, high] = end.interval;
    return {
      remaining: left(end.time),
      interval: [left(low), left(high)],
      coverage: end.coverage,
      from: 'fit',
    };
  }
  if (planned === null || peak === null) return null;
  const multiple = Math.log(1 / endFraction);
  const [low, high] = planned.interval;
  return {
    remaining: left(peak + multiple * planned.value),
    interval: [left(peak + multiple * low), left(peak + multiple * high)],
    coverage: usualCoverage,
    from: 'expected',
  };
}
