import { stat } from 'node:fs/promises';
import { openRecordingFile } from '../archive/index.ts';
import type { RecordingFile } from '../recording/files.ts';
import { type Recording, RecordingError, type TimeBasis } from '../recording/index.ts';
import { type KeptReading, openTurns } from '../store/index.ts';
import type { FileReading, ReadOptionsView } from './contract/index.ts';
import { firstRows } from './first-rows.ts';

/**
 * Reads a file as a recording and says how it was understood; or what is in the way, with its first rows as they can be
 * cut. Nothing is said that needs the experiment.
 *
 * @param file its path, and what a person calls it
 */
export async function understand(
  file: { readonly path: string; readonly name: string },
  options: ReadOptionsView,
): Promise<FileReading> {
  const found = await stat(file.path).catch(() => null);
  return (found?.size ?? 0) < large
    ? understood(file, options)
    : inTurn('large', () => understood(file, options));
}

/** Files of this size, bytes, are read one after another: each step of each of them would hold every other answer up. */
const large = 8 << 20;
const inTurn = openTurns();

async function understood(
  file: { readonly path: string; readonly name: string },
  options: ReadOptionsView,
): Promise<FileReading> {
  const { name } = file;
  const given = asReadOptions(options);
  try {
    const recording = await openRecordingFile(file.path, { ...given, name });
    const { rows } = await firstRows(file.path, recording.dialect);
    return { name, options, understood: understoodOf(recording), trouble: null, rows: copied(rows) };
  } catch (error) {
    if (!(error instanceof RecordingError)) throw error;
    const { rows } = error.code === 'not-text' ? { rows: [] } : await firstRows(file.path, given);
    return { name, options, understood: null, trouble: troubleOf(error), rows: copied(rows) };
  }
}

type Rows = FileReading['rows'];

function copied(rows: readonly { readonly line: number; readonly cells: readonly string[] }[]): Rows {
  return rows.map(({ line, cells }) => ({ line, cells: [...cells] }));
}

/** What was not given must not be there at all. */
export function asReadOptions(options: ReadOptionsView): KeptReading {
  return Object.fromEntries(Object.entries(options).filter(([, value]) => value !== undefined));
}

function understoodOf(recording: RecordingFile): NonNullable<FileReading['understood']> {
  const { dialect, channel, channels, samples, rate, duration, preamble, remarks } = recording;
  return {
    encoding: dialect.encoding,
    delimiter: dialect.delimiter,
    decimal: dialect.decimal,
    thousands: dialect.thousands,
    firstDataLine: dialect.firstDataLine,
    time: timeWords(dialect.time, recording),
    rate,
    samples,
    duration,
    channel: channel.name,
    column: channel.column,
    unit: channel.unit,
    channels: channels.map(({ column, name, unit }) => ({ column, name, unit })),
    preamble: preamble.slice(0, 30).map((line) => line.slice(0, 300)),
    remarks: remarks.map((remark) => ({ ...remark })),
  };
}

const formats: Readonly<Record<Extract<TimeBasis, { kind: 'column' }>['format'], string>> = {
  seconds: 'seconds',
  milliseconds: 'milliseconds',
  microseconds: 'microseconds',
  minutes: 'minutes',
  hours: 'hours',
  'date-time': 'date and time',
  'time-of-day': 'time of day',
};

const sources = { header: 'by the rate in the header', caller: 'by the rate that was given' } as const;

function timeWords(time: TimeBasis, { rate }: Recording): string {
  const every = `${Number(rate.toPrecision(6))} Hz`;
  if (time.kind === 'column') return `column ${time.column}, in ${formats[time.format]}`;
  const from = sources[time.rateFrom];
  return time.kind === 'index-column'
    ? `column ${time.column} counts the samples, ${every} ${from}`
    : `no column, ${every} ${from}`;
}

/** The sentences of an error without the file's name, which stands beside them. */
function troubleOf({ what, mend, line }: RecordingError): NonNullable<FileReading['trouble']> {
  return { message: what, mend, line };
}
