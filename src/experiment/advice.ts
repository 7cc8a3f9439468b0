import { thermocoupleEmf, thermocoupleTemperature } from '../sensing/index.ts';
import type { ExpectedNoise } from './design-uncertainty.ts';
import type { Advice } from './plan-types.ts';
import type { Experiment } from './schema-keys.ts';

/** Bytes of a line of a text file with time and one value (common practice). */
const bytesALine = 20;

/** Bytes of one recording as text. */
export function recordingSize(rate: number, duration: number): number {
  return bytesALine * Math.ceil(rate * duration);
}

/**
 * Rate above which more readings add next to nothing: a hundred a time constant; so many that the white noise of a
 * reading averages out below the correlated noise, 10 (white/correlated)²/tc; and clear of the mains, 2.4 times its
 * frequency, unless the converter averages over whole periods. The first and last are rules of the trade; the second
 * keeps 95 % of the information in simulated coolings.
 *
 * @param timeConstant s
 * @param noise to expect
 * @param mains Hz
 * @returns readings a second
 */
export function usefulRate(timeConstant: number, noise: ExpectedNoise, mains: number): number {
  const { white, correlated, correlationTime } = noise;
  const averaging =
    correlated > 0 && correlationTime > 0 ? (10 * (white / correlated) ** 2) / correlationTime : 0;
  return Math.max(100 / timeConstant, averaging, 2.4 * mains);
}

/** What hum of the mains looks like when it is sampled, Hz: 0 stands still. */
export function aliasOf(mains: number, rate: number): number {
  return Math.abs(mains - Math.round(mains / rate) * rate);
}

/** Step of the converter in kelvin at a temperature, °C; null where the file does not say enough. */
export function resolutionInKelvin({ sensor, logger }: Experiment, temperature: number): number | null {
  if (logger === undefined) return null;
  if (logger.resolution?.unit === 'K') return logger.resolution.step;
  const volts =
    logger.resolution?.step ??
    (logger.range === undefined || logger.bits === undefined
      ? null
      : (logger.range.to - logger.range.from) / 2 ** logger.bits);
  if (volts === null || sensor.thermocouple === undefined) return null;
  const { thermocouple, gain = 1 } = sensor;
  const slope =
    (thermocoupleEmf(thermocouple, temperature + 1) - thermocoupleEmf(thermocouple, temperature - 1)) / 2;
  const step = volts / Math.abs(gain * slope);
  return Number.isFinite(step) ? step : null;
}

/** What the advice is about. Temperatures in °C, times in s. */
export interface AdviceOccasion {
  readonly experiment: Experiment;
  readonly noise: ExpectedNoise;
  readonly noiseIsMeasured: boolean;
  readonly ambient: number;
  readonly hottest: number;
  readonly quickest: number;
  readonly slowest: number;
  /** Longest recording, s. */
  readonly longest: number;
  /** Recordings of the whole session. */
  readonly recordings: number;
}

/** Advice on rate, range, resolution and size of the recordings. */
export function loggerAdvice(occasion: AdviceOccasion): Advice[] {
  return [
    ...rateAdvice(occasion),
    ...rangeAdvice(occasion),
    ...resolutionAdvice(occasion),
    ...sizeAdvice(occasion),
    noiseAdvice(occasion),
  ];
}

function rateAdvice({ experiment, noise, quickest, slowest }: AdviceOccasion): Advice[] {
  const { mains, logger } = experiment;
  const useful = Math.ceil(usefulRate(quickest, noise, mains));
  const forSlowest = Math.ceil(usefulRate(slowest, noise, mains));
  const wanted =
    useful === forSlowest
      ? `${useful} readings a second lose nothing`
      : `${useful} readings a second lose nothing for the quickest body, ${forSlowest} for the slowest`;
  if (logger === undefined) {
    return [{ about: 'rate', severity: 'note', message: `${wanted}; more only makes files longer.` }];
  }
  const { rate } = logger;
  const advice: Advice[] = [];
  const enough = rate >= Math.max(100 / quickest, 1);
  advice.push({
    about: 'rate',
    severity: enough ? 'note' : 'caution',
    message: enough
      ? `The logger takes ${shown(rate)} readings a second; ${wanted}.`
      : `The logger takes ${shown(rate)} readings a second, ${shown(rate * quickest)} a time constant of the quickest body; ${wanted}.`,
  });
  const alias = aliasOf(mains, rate);
  // Slower than this, hum is not averaged away within a tenth of a time constant.
  if (rate < 2 * mains && alias < 10) {
    advice.push({
      about: 'rate',
      severity: 'caution',
      message: `At ${shown(rate)} readings a second, hum of ${mains} Hz looks like ${alias === 0 ? 'a steady offset' : `a wave of ${shown(alias)} Hz`}: take another rate, ${2 * mains} a second or more, unless the logger averages over whole mains periods.`,
    });
  }
  return advice;
}

function rangeAdvice({ experiment, ambient, hottest }: AdviceOccasion): Advice[] {
  const { sensor, logger } = experiment;
  const range = logger?.range;
  if (range === undefined || sensor.thermocouple === undefined) return [];
  const { thermocouple, gain = 1 } = sensor;
  const zero = sensor.zero?.value ?? 0;
  const volts = (t: number) => zero + gain * thermocoupleEmf(thermocouple, t);
  const used = Math.abs(volts(hottest) - volts(ambient)) / (range.to - range.from);
  const top = thermocoupleTemperature(thermocouple, (range.to - zero) / gain);
  if (!Number.isFinite(used)) return [];
  const reach = top.ok ? `up to ${shown(top.value)} °C` : 'over the whole span of the thermocouple';
  const wide = used < 0.05;
  return [
    {
      about: 'range',
      severity: 'note',
      message: `The range of the logger, with a reference junction in ice, reaches ${reach}; from ambient to ${shown(hottest)} °C the signal uses ${percent(used)} of it${wide ? ': a narrower range or a larger gain gives finer steps' : ''}.`,
    },
  ];
}

function resolutionAdvice({ experiment, noise, ambient }: AdviceOccasion): Advice[] {
  const step = resolutionInKelvin(experiment, ambient);
  if (step === null) return [];
  const scatter = Math.hypot(noise.white, noise.correlated);
  const coarse = step > 2 * scatter;
  return [
    {
      about: 'resolution',
      severity: coarse ? 'caution' : 'note',
      message: `One step of the converter is ${shown(step)} K at ambient, ${coarse ? 'more than the noise can smooth: take a narrower range or a larger gain' : `finer than the expected noise of ${shown(scatter)} K: it costs nothing`}.`,
    },
  ];
}

function sizeAdvice({ experiment, longest, recordings }: AdviceOccasion): Advice[] {
  const rate = experiment.logger?.rate;
  if (rate === undefined || !Number.isFinite(longest)) return [];
  const lines = Math.ceil(rate * longest);
  // Rows of a sheet in common spreadsheet programs.
  const sheet = lines > 1_048_576 ? ', more than a spreadsheet holds' : '';
  return [
    {
      about: 'file-size',
      severity: 'note',
      message: `The longest recording has about ${shown(lines)} lines${sheet}, ${megabytes(recordingSize(rate, longest))}; ${recordings} recordings together take at most ${megabytes(recordings * recordingSize(rate, longest))}.`,
    },
  ];
}

function noiseAdvice({ noise, noiseIsMeasured }: AdviceOccasion): Advice {
  const { white, correlated, correlationTime } = noise;
  const source = noiseIsMeasured
    ? 'as earlier recordings showed'
    : 'an assumption until there are recordings';
  return {
    about: 'noise',
    severity: 'note',
    message: `The uncertainties expect ${shown(white)} K of noise from reading to reading and ${shown(correlated)} K that lasts ${shown(correlationTime)} s, ${source}.`,
  };
}

function megabytes(bytes: number): string {
  return bytes < 1e6 ? `${shown(bytes / 1000)} kB` : `${shown(bytes / 1e6)} MB`;
}

function percent(part: number): string {
  return `${shown(100 * part)} %`;
}

function shown(value: number): string {
  const rounded = Number(value.toPrecision(2));
  return Math.abs(value) >= 100 ? String(Math.round(value)) : String(rounded);
}
