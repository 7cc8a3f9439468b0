import { SensorError, type SensorSettings, sensorSettings } from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { type ThermocoupleType, thermocoupleTypes } from '../sensing/index.ts';
import { type AnalyzeOptions, OptionError, quantityOption } from './wishes.ts';

/**
 * What is known of the sensor chain: options over the experiment file.
 *
 * @throws OptionError where an option or the experiment file contradicts itself or cannot be understood
 */
export function chainWishes(options: AnalyzeOptions, experiment: Experiment | null): SensorSettings {
  if (options.thermocouple !== undefined && options.resistance !== undefined) {
    throw new OptionError('--thermocouple and --resistance: a channel is one or the other');
  }
  const ownSensor = options.thermocouple !== undefined || options.resistance !== undefined;
  return {
    ...experimentSensor(options, experiment),
    ...(ownSensor
      ? { thermocouple: letter(options.thermocouple), resistance: options.resistance ?? null }
      : {}),
    ...(options.tolerance === undefined ? {} : { tolerance: options.tolerance }),
    ...(options.gain === undefined ? {} : { gain: gainOf(options.gain), gainUncertainty: null }),
    ...(options.zero === undefined
      ? {}
      : { zero: quantityOption('--zero', options.zero, 'voltage'), zeroUncertainty: null }),
  };
}

function experimentSensor({ junction }: AnalyzeOptions, experiment: Experiment | null): SensorSettings {
  try {
    return sensorSettings(experiment, junction);
  } catch (error) {
    throw inOptions(error);
  }
}

/** The same error; one about the sensor says which option mends it. */
export function inOptions(error: unknown): unknown {
  return error instanceof SensorError ? new OptionError(optionWords(error)) : error;
}

function optionWords({ trouble, about, seen }: SensorError): string {
  switch (trouble) {
    case 'unit':
      return `${about}: ${seen}; say it with --unit: degC, degF, K, V, mV, uV or ohm`;
    case 'resistance':
      return `${seen}: say which sensor it is, with --resistance Pt100`;
    case 'thermocouple':
      return `${seen}: say which thermocouple it is, with --thermocouple T (and --gain, --zero where an amplifier stands between)`;
    case 'junction':
      return `${seen}: say where its reference junction is, with --junction ice, --junction "22.5 degC" or --junction <channel>`;
    case 'junction-channel':
      return `--junction ${about}: ${seen}`;
    case 'junction-written':
      return `--junction: ${seen}`;
    case 'tolerance':
      return `--tolerance ${about}: ${seen}`;
  }
}

function letter(text: string | undefined): ThermocoupleType | null {
  if (text === undefined) return null;
  const found = thermocoupleTypes.find((type) => type === text.toUpperCase());
  if (found !== undefined) return found;
  throw new OptionError(`--thermocouple ${text}: write one of ${thermocoupleTypes.join(', ')}`);
}

function gainOf(text: string): number {
  const gain = Number(text);
  if (Number.isFinite(gain) && gain !== 0) return gain;
  throw new OptionError(`--gain ${text}: write a plain number such as 200`);
}
