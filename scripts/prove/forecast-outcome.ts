import { OptionError } from '../../src/cli/wishes.ts';
import { type Decay, forecastEnd } from '../../src/decay/index.ts';
import type { BenchReadings } from '../../src/practice/bench-types.ts';
import { recordingBytes } from '../../src/practice/write-recording.ts';
import { RecordingError } from '../../src/recording/index.ts';
import { benchWishes, type Desk } from './desk.ts';
import { drawTrial, seedOf } from './draw-trial.ts';
import { forecastFrom } from './forecast-cases.ts';
import { record } from './record.ts';
import type { Scenario } from './scenario.ts';

/** A kind of cooling and what became of its forecasts. */
export interface ForecastTried {
  readonly scenario: Scenario;
  readonly outcomes: readonly ForecastOutcome[];
}

/** Forecasts within one recording. */
export interface ForecastOutcome {
  /** One for each of `forecastFrom`. */
  readonly forecasts: readonly Foretold[];
}

/** One forecast against what came. Times s, from the last reading that the forecast knew. */
export interface Foretold {
  /** Null where none was made. */
  readonly forecast: { readonly remaining: number; readonly interval: readonly [number, number] } | null;
  /** By the finished recording's analysis; null where that has no time constant. */
  readonly finished: number | null;
  /** By the same, but with its heat-off and the true time constant; null where one of them is missing. */
  readonly sameStart: number | null;
  /** When the noise-free reading has fallen to the end fraction of its step. */
  readonly truth: number;
}

/** Numbers that the seeds of forecasts start from, beyond those of all scenarios. */
const seedsFrom = 1000;

/**
 * A recording that is analyzed from its file when it has come to each of `forecastFrom`, and when it is finished.
 *
 * @param place number of the kind, and that of the recording in it
 * @param base seed of the whole run
 */
export async function tryForecast(
  desk: Desk,
  scenario: Scenario,
  place: { readonly scenario: number; readonly recording: number },
  base: number,
): Promise<ForecastOutcome> {
  const seed = seedOf(base, seedsFrom + place.scenario, place.recording);
  const { readings, bytes } = record(drawTrial(scenario, seed, place.recording));
  const { endFraction } = benchWishes.settings;
  const { timeConstant } = readings.truth;
  const whole = await analyzed(desk, bytes);
  const finished = whole === null ? null : endOf(whole, endFraction);
  const heatOff = whole?.segments.heatOff ?? null;
  const sameStart =
    heatOff === null || timeConstant === null ? null : heatOff + timeConstant * Math.log(1 / endFraction);
  const truth = momentOf(readings, endFraction);
  const forecasts: Foretold[] = [];
  for (const errorFraction of forecastFrom) {
    const now = momentOf(readings, errorFraction);
    const decay = await analyzed(desk, bytesUntil(readings, now));
    const end =
      decay === null || decay.fit === null
        ? null
        : forecastEnd(decay.fit, heatOffOf(decay, decay.fit.start), endFraction);
    forecasts.push({
      forecast:
        end === null
          ? null
          : { remaining: end.time - now, interval: [end.interval[0] - now, end.interval[1] - now] },
      finished: finished === null ? null : finished - now,
      sameStart: sameStart === null ? null : sameStart - now,
      truth: truth - now,
    });
  }
  return { forecasts };
}

async function analyzed(desk: Desk, bytes: Uint8Array): Promise<Decay | null> {
  try {
    return (await desk.analyze(bytes, benchWishes)).decay;
  } catch (error) {
    if (error instanceof RecordingError || error instanceof OptionError) return null;
    throw error;
  }
}

/** Where a finished recording's own curve reaches the end fraction, s from its first sample. */
function endOf({ segments, fit }: Decay, endFraction: number): number | null {
  if (fit === null || segments.heatOff === null) return null;
  return segments.heatOff + fit.timeConstant * Math.log(1 / endFraction);
}

/** When the heat went off, as a trial that is watched takes it, s. */
function heatOffOf({ segments }: Decay, start: number): number {
  return segments.heatOff ?? segments.cooling?.from ?? start;
}

/** When the noise-free reading has fallen to an error fraction, s from the first sample. */
function momentOf({ trial, truth, junction }: BenchReadings, errorFraction: number): number {
  const { rate } = trial.logger;
  const level = truth.coolingAir + errorFraction * (truth.peak - truth.coolingAir);
  const from = Math.ceil(truth.heatOff * rate);
  const sample = junction.findIndex((temperature, i) => i >= from && temperature <= level);
  return sample < 0 ? Number.NaN : sample / rate;
}

/** The logger's file as it is at a moment, s from the first sample. */
function bytesUntil(readings: BenchReadings, moment: number): Uint8Array {
  const count = Math.floor(moment * readings.trial.logger.rate) + 1;
  return Buffer.concat([...recordingBytes({ ...readings, logged: readings.logged.slice(0, count) })]);
}
