import { experimentDecaySettings } from '../analysis/index.ts';
import { type DecaySettings, usualDecaySettings } from '../decay/index.ts';
import { type Experiment, entryOf } from '../experiment/index.ts';
import { type Dimension, parseQuantity } from '../quantity/index.ts';
import type { ChannelUnit, ReadOptions, TimeUnit } from '../recording/index.ts';

/** Options of `analyze`, as they are typed. */
export interface AnalyzeOptions {
  readonly channel?: string;
  readonly unit?: string;
  readonly rate?: string;
  readonly decimal?: '.' | ',';
  readonly thousands?: ',' | '.' | ' ' | "'";
  readonly delimiter?: 'tab' | 'comma' | 'semicolon' | 'pipe' | 'space';
  readonly encoding?: 'utf-8' | 'utf-16le' | 'utf-16be' | 'latin-1';
  readonly timeColumn?: string;
  readonly timeUnit?: string;
  readonly part?: string;
  readonly thermocouple?: string;
  readonly resistance?: 'Pt100' | 'Pt1000';
  readonly tolerance?: string;
  readonly junction?: string;
  readonly gain?: string;
  readonly zero?: string;
  readonly zeroRecording?: string;
  readonly experiment?: string;
  readonly body?: string;
  readonly ambient?: string;
  readonly window?: string;
  readonly heating?: string;
  readonly target?: string;
  readonly limit?: string;
  readonly endFraction?: string;
  readonly mains?: '50' | '60';
  readonly figure?: string;
  readonly brief?: boolean;
  readonly json?: boolean;
}

/** An option that cannot be understood; the message names it and says what to write. */
export class OptionError extends Error {
  override readonly name = 'OptionError';
}

const delimiters = { tab: '\t', comma: ',', semicolon: ';', pipe: '|', space: 'space' } as const;

/** Spellings of units that people type, beside the ones in the list of the option. */
const channelUnits: ReadonlyMap<string, ChannelUnit> = new Map([
  ['V', 'V'],
  ['mV', 'mV'],
  ['uV', 'uV'],
  ['µV', 'uV'],
  ['degC', 'degC'],
  ['°C', 'degC'],
  ['C', 'degC'],
  ['degF', 'degF'],
  ['°F', 'degF'],
  ['F', 'degF'],
  ['K', 'K'],
  ['ohm', 'ohm'],
  ['Ω', 'ohm'],
]);

const timeUnits: ReadonlyMap<string, TimeUnit> = new Map([
  ['s', 's'],
  ['ms', 'ms'],
  ['us', 'us'],
  ['µs', 'us'],
  ['min', 'min'],
  ['h', 'h'],
  ['index', 'index'],
]);

/** How the file is to be read, from the options. */
export function readWishes(options: AnalyzeOptions): ReadOptions {
  return {
    ...(options.channel === undefined ? {} : { channel: nameOrNumber(options.channel) }),
    ...(options.unit === undefined ? {} : { unit: pick('--unit', options.unit, channelUnits) }),
    ...(options.rate === undefined ? {} : { rate: rateOf(options.rate) }),
    ...(options.decimal === undefined ? {} : { decimal: options.decimal }),
    ...(options.thousands === undefined ? {} : { thousands: options.thousands }),
    ...(options.delimiter === undefined ? {} : { delimiter: delimiters[options.delimiter] }),
    ...(options.encoding === undefined ? {} : { encoding: options.encoding }),
    ...(options.timeColumn === undefined ? {} : { timeColumn: nameOrNumber(options.timeColumn) }),
    ...(options.timeUnit === undefined ? {} : { timeUnit: pick('--time-unit', options.timeUnit, timeUnits) }),
    ...(options.part === undefined ? {} : { segment: wholeNumber('--part', options.part) }),
  };
}

/**
 * How the trial is judged: the usual settings, the experiment file over them, the options over both.
 *
 * @throws OptionError where an option cannot be understood
 */
export function decayWishes(options: AnalyzeOptions, experiment: Experiment | null): DecaySettings {
  const body = bodyOf(options, experiment);
  const base = experimentDecaySettings(experiment, body);
  return {
    ...base,
    ...(options.mains === undefined ? {} : { mains: Number(options.mains) }),
    ...(options.window === undefined ? {} : { window: windowOf(options.window) }),
    ...(options.ambient === undefined ? {} : { ambient: ambientOf(options.ambient) }),
    ...(options.heating === undefined ? {} : { heating: wholeNumber('--heating', options.heating) }),
    ...(options.target === undefined
      ? {}
      : { target: quantityOption('--target', options.target, 'temperature') }),
    ...(options.limit === undefined
      ? {}
      : { limit: quantityOption('--limit', options.limit, 'temperature') }),
    ...(options.endFraction === undefined
      ? {}
      : { endFraction: fraction('--end-fraction', options.endFraction) }),
  };
}

function bodyOf({ body }: AnalyzeOptions, experiment: Experiment | null): string | null {
  if (body === undefined) return null;
  if (experiment === null) {
    throw new OptionError('--body names a body of an experiment file: give --experiment <folder> as well');
  }
  if (entryOf(experiment.bodies, body) !== undefined) return body;
  const known = Object.keys(experiment.bodies).join(', ') || 'none';
  throw new OptionError(`--body ${body}: the experiment file has no such body; it has: ${known}`);
}

/** The quantity that an option holds, in SI; temperatures in °C. */
export function quantityOption(option: string, text: string, dimension: Dimension): number {
  const parsed = parseQuantity(text, dimension);
  if (parsed.ok) return parsed.value;
  throw new OptionError(`${option}: ${parsed.problem} ${parsed.mend}`);
}

function rateOf(text: string): number {
  const rate = parseQuantity(text, 'frequency');
  if (rate.ok && rate.value > 0) return rate.value;
  const spacing = parseQuantity(text, 'time');
  if (spacing.ok && spacing.value > 0) return 1 / spacing.value;
  throw new OptionError(`--rate ${text}: write a rate such as "100 Hz", or a spacing such as "10 ms"`);
}

/** Ambient temperatures that are taken without a question, °C. Common practice, no source. */
const plausibleAmbient = [-40, 60] as const;

function ambientOf(text: string): DecaySettings['ambient'] {
  if (text === 'fitted') return { kind: 'fitted' };
  if (text === 'baseline') return { kind: 'baseline' };
  if (!/^\s*[+-]?[.\d]/.test(text)) {
    throw new OptionError(
      `--ambient ${text}: write a temperature as "22.1 degC", or fitted, or baseline; a column of the file cannot be named here`,
    );
  }
  const [written = '', uncertainty] = text.split(/\s*(?:\+-|\+\/-|±)\s*/);
  const value = quantityOption('--ambient', written, 'temperature');
  const [coldest, warmest] = plausibleAmbient;
  if (value < coldest || value > warmest) {
    throw new OptionError(
      `--ambient ${text}: that is ${value.toFixed(1)} degC, and no laboratory; write it as "22.1 degC"`,
    );
  }
  return {
    kind: 'given',
    value,
    standardUncertainty:
      uncertainty === undefined
        ? usualDecaySettings.ambientOffset
        : positive('--ambient', quantityOption('--ambient', uncertainty, 'temperature-difference')),
  };
}

function windowOf(text: string): DecaySettings['window'] {
  const [from = Number.NaN, to = Number.NaN, ...more] = text.split(':').map(Number);
  if (more.length === 0 && from < 1 && to > 0 && from > to) return { from, to };
  throw new OptionError(`--window ${text}: write two error fractions, the larger first, as 0.9:0.1`);
}

function fraction(option: string, text: string): number {
  const value = Number(text);
  if (value > 0 && value < 1) return value;
  throw new OptionError(`${option} ${text}: write a number between 0 and 1, as 0.1`);
}

function positive(option: string, value: number): number {
  if (value > 0) return value;
  throw new OptionError(`${option}: an uncertainty must be more than 0`);
}

/** A whole number from 1 up. */
function wholeNumber(option: string, text: string): number {
  const value = Number(text);
  if (Number.isInteger(value) && value >= 1 && value <= 1e6) return value;
  throw new OptionError(`${option} ${text}: write a whole number, counted from 1`);
}

function nameOrNumber(text: string): string | number {
  return /^\d{1,4}$/.test(text) ? Number(text) : text;
}

function pick<T>(option: string, text: string, known: ReadonlyMap<string, T>): T {
  const found = known.get(text);
  if (found !== undefined) return found;
  throw new OptionError(`${option} ${text}: write one of ${[...known.keys()].join(', ')}`);
}
