import { formatSignificant, parseQuantity } from '../../../src/quantity/index.ts';
import type { FileReading, ReadOptionsView } from '../../../src/server/contract/index.ts';

type Understood = NonNullable<FileReading['understood']>;

const delimiterWords: Readonly<Record<string, string>> = {
  '\t': 'tabs',
  ',': 'commas',
  ';': 'semicolons',
  '|': 'bars',
  space: 'spaces',
};

const thousandsWords: Readonly<Record<string, string>> = {
  ',': 'a comma',
  '.': 'a point',
  ' ': 'a space',
  "'": 'an apostrophe',
};

const unitSymbols: Readonly<Record<string, string>> = { degC: '°C', degF: '°F', uV: 'µV', ohm: 'Ω' };

/** A unit as it is set. */
export function unitSymbol(unit: string): string {
  return unitSymbols[unit] ?? unit;
}

/** Everything that was understood of a file, in one sentence. */
export function understoodSentence(understood: Understood): string {
  const { delimiter, decimal, thousands, time, channel, column, unit, rate, samples, duration } = understood;
  const marks = [
    `columns parted by ${delimiterWords[delimiter] ?? delimiter}`,
    decimal === ',' ? 'decimal comma' : 'decimal point',
    ...(thousands === null ? [] : [`thousands parted by ${thousandsWords[thousands] ?? thousands}`]),
    understood.encoding,
  ];
  const named = channel === `column ${column}` ? channel : `“${channel}” in column ${column}`;
  return `${capital(marks.join(', '))}; time: ${time}; channel ${named}, ${
    unit === null ? 'its unit is not written in the file' : `in ${unitSymbol(unit)}`
  }; ${formatSignificant(rate, 4)} Hz, ${grouped(samples)} readings over ${formatSignificant(duration, 4)} s.`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function grouped(count: number): string {
  return String(count).replace(/\B(?=(\d{3})+(?!\d))/g, '\u00a0');
}

/** Size of a file for people. */
export function sizeWords(bytes: number): string {
  if (bytes < 1000) return `${bytes} B`;
  if (bytes < 1e6) return `${formatSignificant(bytes / 1e3, 3)} kB`;
  return `${formatSignificant(bytes / 1e6, 3)} MB`;
}

/** What a column of the file is: its name in the file, and what it was taken for. */
export interface ShownColumn {
  readonly column: number;
  readonly name: string;
  /** 'time', 'taken', or nothing. */
  readonly role: 'time' | 'taken' | null;
}

/** Rows are shown from two lines before the first numbers on, so that the header is seen. */
const linesBefore = 2;
const mostRows = 8;
const mostColumns = 12;

/** The first rows of a file, as wide as its widest, with its columns named. */
export function firstRows({ understood, rows }: Pick<FileReading, 'understood' | 'rows'>): {
  readonly columns: readonly ShownColumn[];
  readonly rows: FileReading['rows'];
} {
  const from = understood === null ? 1 : Math.max(1, understood.firstDataLine - linesBefore);
  const shown = rows.filter(({ line }) => line >= from).slice(0, mostRows);
  const width = Math.min(mostColumns, Math.max(0, ...shown.map(({ cells }) => cells.length)));
  const timeColumn = Number(/^column (\d+)/.exec(understood?.time ?? '')?.[1] ?? Number.NaN);
  const columns = Array.from({ length: width }, (_, i): ShownColumn => {
    const column = i + 1;
    const channel = understood?.channels.find((one) => one.column === column);
    const role = column === timeColumn ? 'time' : column === understood?.column ? 'taken' : null;
    return { column, name: channel?.name ?? `column ${column}`, role };
  });
  return { columns, rows: shown };
}

/** What stands in the fields of a correction; empty where the finding stands. */
export type CorrectionFields = Readonly<Record<keyof ReadOptionsView, string>>;

/** Fields as they were last sent. */
export function fieldsOf(options: ReadOptionsView): CorrectionFields {
  const text = (value: string | number | undefined) => (value === undefined ? '' : String(value));
  return {
    channel: text(options.channel),
    unit: text(options.unit),
    rate: text(options.rate),
    decimal: text(options.decimal),
    thousands: text(options.thousands),
    delimiter: text(options.delimiter),
    encoding: text(options.encoding),
    timeColumn: text(options.timeColumn),
    timeUnit: text(options.timeUnit),
    segment: text(options.segment),
  };
}

/** Choices of the fields that have a list, each with its words. */
export const choices = {
  unit: ['degC', 'V', 'mV', 'uV', 'K', 'degF', 'ohm'].map((unit) => [unit, unitSymbol(unit)] as const),
  decimal: [
    ['.', 'point'],
    [',', 'comma'],
  ],
  thousands: [
    [',', 'comma'],
    ['.', 'point'],
    [' ', 'space'],
    ["'", 'apostrophe'],
  ],
  delimiter: [
    ['\t', 'tab'],
    [',', 'comma'],
    [';', 'semicolon'],
    ['|', 'bar'],
    ['space', 'spaces'],
  ],
  encoding: ['utf-8', 'utf-16le', 'utf-16be', 'latin-1'].map((name) => [name, name] as const),
  timeUnit: [
    ['s', 's'],
    ['ms', 'ms'],
    ['us', 'µs'],
    ['min', 'min'],
    ['h', 'h'],
    ['index', 'counts samples'],
  ],
} as const;

function chosen<T extends string>(list: readonly (readonly [T, string])[], text: string): T | undefined {
  return list.find(([value]) => value === text)?.[0];
}

/** A rate, Hz, as it is written: a number, or a rate or a spacing with its unit; else not a number. */
function hertz(text: string): number {
  const plain = Number(text);
  if (!Number.isNaN(plain)) return plain;
  const rate = parseQuantity(text, 'frequency');
  if (rate.ok) return rate.value;
  const spacing = parseQuantity(text, 'time');
  return spacing.ok ? 1 / spacing.value : Number.NaN;
}

/** What a person says better than the file, from the fields; or which of them is not a number that can be. */
export function optionsOf(
  fields: CorrectionFields,
):
  | { readonly ok: true; readonly options: ReadOptionsView }
  | { readonly ok: false; readonly field: 'rate' | 'segment'; readonly message: string } {
  const rate = fields.rate.trim() === '' ? undefined : hertz(fields.rate.trim().replace(',', '.'));
  if (rate !== undefined && !(rate > 0 && rate <= 1e7)) {
    const message = 'The rate is a number in Hz, such as 100, or carries its unit, as 100 Hz or 10 ms.';
    return { ok: false, field: 'rate', message };
  }
  const segment = fields.segment.trim() === '' ? undefined : Number(fields.segment);
  if (segment !== undefined && !(Number.isInteger(segment) && segment >= 1 && segment <= 1000)) {
    return { ok: false, field: 'segment', message: 'The part is a whole number from 1.' };
  }
  const column = (text: string) => {
    const trimmed = text.trim();
    if (trimmed === '') return undefined;
    return /^[1-9]\d{0,2}$/.test(trimmed) ? Number(trimmed) : trimmed;
  };
  const all = {
    channel: column(fields.channel),
    unit: chosen(choices.unit, fields.unit) as ReadOptionsView['unit'],
    rate,
    decimal: chosen(choices.decimal, fields.decimal),
    thousands: chosen(choices.thousands, fields.thousands),
    delimiter: chosen(choices.delimiter, fields.delimiter),
    encoding: chosen(choices.encoding, fields.encoding) as ReadOptionsView['encoding'],
    timeColumn: column(fields.timeColumn),
    timeUnit: chosen(choices.timeUnit, fields.timeUnit),
    segment,
  };
  const options = Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined));
  return { ok: true, options };
}
