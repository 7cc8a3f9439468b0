import type { ReadOptions } from './options.ts';

/** What may be said, as it may come from elsewhere. */
type Said = { readonly [K in keyof ReadOptions]?: ReadOptions[K] | undefined };

const units: Readonly<Record<string, string>> = { degC: '°C', degF: '°F', uV: 'µV', ohm: 'Ω', us: 'µs' };

const marks: Readonly<Record<string, string>> = {
  '.': 'point',
  ',': 'comma',
  ' ': 'space',
  "'": 'apostrophe',
};

const delimiters: Readonly<Record<string, string>> = {
  '\t': 'tabs',
  ',': 'commas',
  ';': 'semicolons',
  '|': 'bars',
  space: 'spaces',
};

/** What a person said of how a file is to be read, in words: 'in °C, sampled at 100 Hz'; 'as found' for nothing. */
export function readOptionsWords(said: Said): string {
  const { channel, unit, rate, timeColumn, timeUnit, delimiter, decimal, thousands, encoding, segment } =
    said;
  const parts = [
    channel === undefined ? null : `channel ${channel}`,
    unit == null ? null : `in ${units[unit] ?? unit}`,
    rate === undefined ? null : `sampled at ${rate} Hz`,
    timeColumn === undefined ? null : `time in column ${timeColumn}`,
    timeUnit === undefined ? null : timeWords(timeUnit),
    delimiter === undefined ? null : `columns parted by ${delimiters[delimiter] ?? delimiter}`,
    decimal === undefined ? null : `decimal ${marks[decimal] ?? decimal}`,
    thousands == null ? null : `thousands parted by ${marks[thousands] ?? thousands}`,
    encoding === undefined ? null : `encoded as ${encoding}`,
    segment === undefined ? null : `part ${segment} of the file`,
  ].filter((part) => part !== null);
  return parts.length === 0 ? 'as found' : parts.join(', ');
}

function timeWords(unit: string): string {
  return unit === 'index' ? 'the time counts samples' : `time in ${units[unit] ?? unit}`;
}
