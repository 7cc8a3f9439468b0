import { TrialWatch } from '../../src/live/trial-watch.ts';
import type { Forecast } from '../../src/live/types.ts';
import { traceOf } from '../decay/trials.ts';
import { contextOf, type SimulatedTrial, settingsFor } from './trials.ts';

/** A forecast held against the simulator's own truth. Times in s. */
export interface JudgedForecast {
  /** True error fraction that the cooling had come to. */
  readonly fraction: number;
  readonly forecast: Forecast;
  /**
   * True time from then to the end fraction, as error fractions are counted: from the heat-off that is found in the
   * whole recording, with the true time constant.
   */
  readonly remaining: number;
  /**
   * The same by the junction alone: from the moment that the heat was truly switched off, after which the hot air still
   * dies away. NaN where the recording ends before.
   */
  readonly remainingOfJunction: number;
}

/** Whether the interval of a forecast holds a time, s. */
export function holds({ interval: [low, high] }: Forecast, remaining: number): boolean {
  return low <= remaining && remaining <= high;
}

/** When the noise-free junction has an error fraction, s: its excess over the true air as a part of that at heat-off. */
function junctionAt({ readings }: SimulatedTrial, fraction: number): number {
  const { junction, truth, trial } = readings;
  const { rate } = trial.logger;
  const off = Math.round(truth.heatOff * rate);
  const airAt = (i: number) => truth.coolingAir + trial.air.drift * (i / rate - truth.heatOff);
  const excess = (i: number) => (junction[i] ?? Number.NaN) - airAt(i);
  const step = excess(off);
  for (let i = off; i < junction.length; i++) if (excess(i) <= fraction * step) return i / rate;
  return Number.NaN;
}

/**
 * The forecasts of a trial that is fed in chunks of a second, each the first one after the cooling has come to an error
 * fraction.
 *
 * @param fractions falling
 */
export function forecastsOf(trial: SimulatedTrial, fractions: readonly number[]): JudgedForecast[] {
  const { logged, truth, trial: bench } = trial.readings;
  const { rate } = bench.logger;
  const settings = settingsFor(trial.condition.body);
  const context = contextOf(trial);
  const moments = fractions.map((fraction) => ({ fraction, at: junctionAt(trial, fraction) }));
  const watch = new TrialWatch(settings);
  const seen: { fraction: number; time: number; forecast: Forecast }[] = [];
  const last = moments.at(-1)?.at ?? 0;
  for (let second = 1; seen.length < moments.length && second <= last + 2; second++) {
    const { time, forecast } = watch.take(traceOf(logged.slice(0, second * rate), rate), context, true);
    const due = moments[seen.length];
    if (due !== undefined && time >= due.at && forecast !== null) {
      seen.push({ fraction: due.fraction, time, forecast });
    }
  }
  const { heatOff } = watch.take(traceOf(logged, rate), context, false);
  const end =
    (heatOff ?? Number.NaN) + (truth.timeConstant ?? Number.NaN) * Math.log(1 / settings.endFraction);
  const endOfJunction = junctionAt(trial, settings.endFraction);
  return seen.map(({ fraction, time, forecast }) => {
    return { fraction, forecast, remaining: end - time, remainingOfJunction: endOfJunction - time };
  });
}
