import { type RecordingFile, readRecordingFile } from '../recording/files.ts';
import { type ReadOptions, type Recording, RecordingError, type TimeBasis } from '../recording/index.ts';
import type { WaitingFile } from '../store/index.ts';
import type { ReadOptionsView, UploadView } from './contract/index.ts';
import { firstRows } from './first-rows.ts';

/** What of an uploaded file can be said without the experiment. */
export type Understanding = Pick<UploadView, 'understood' | 'trouble' | 'rows'>;

/**
 * Reads an uploaded file as a recording and says how it was understood; or what is in the way, with its first rows as
 * they can be cut.
 */
export async function understand(file: WaitingFile, options: ReadOptionsView): Promise<Understanding> {
  const given = asReadOptions(options);
  try {
    const recording = await readRecordingFile(file.path, { ...given, name: file.name });
    const { rows } = await firstRows(file.path, recording.dialect);
    return { understood: understoodOf(recording), trouble: null, rows: copied(rows) };
  } catch (error) {
    if (!(error instanceof RecordingError)) throw error;
    const { rows } = error.code === 'not-text' ? { rows: [] } : await firstRows(file.path, given);
    return { understood: null, trouble: troubleOf(error), rows: copied(rows) };
  }
}

type Rows = UploadView['rows'];

function copied(rows: readonly { readonly line: number; readonly cells: readonly string[] }[]): Rows {
  return rows.map(({ line, cells }) => ({ line, cells: [...cells] }));
}

/** What was not given must not be there at all. */
function asReadOptions(options: ReadOptionsView): ReadOptions {
  return Object.fromEntries(Object.entries(options).filter(([, value]) => value !== undefined));
}

function understoodOf(recording: RecordingFile): NonNullable<UploadView['understood']> {
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
function troubleOf(error: RecordingError): NonNullable<UploadView['trouble']> {
  const { file, line, mend } = error;
  const place = line === null ? `${file}: ` : `${file}, line ${line}: `;
  const whole = error.message.startsWith(place) ? error.message.slice(place.length) : error.message;
  const at = whole.indexOf(mend);
  return { message: (at > 0 ? whole.slice(0, at) : whole).trim(), mend, line };
}
