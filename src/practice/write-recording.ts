import type { BenchReadings, BenchTrial } from './bench-types.ts';
import { layouts } from './dialect.ts';
import type { HeadFacts, Layout } from './dialect-types.ts';
import { clockStart, clockTexts } from './write-clock.ts';
import type { Column } from './write-column.ts';
import { unitText, writtenColumns } from './write-columns.ts';
import { ByteSink } from './write-sink.ts';

/** Size of the pieces in which a recording is written, bytes of ASCII. */
const pieceSize = 1 << 18;

/**
 * The logger's file, piece by piece: the same readings give the same bytes.
 *
 * @param readings what was logged, with the trial that says how the logger writes
 * @throws RangeError where the trial's start is no date and time, or a converter has no range
 */
export function* recordingBytes(readings: BenchReadings): Generator<Uint8Array, void, undefined> {
  const { trial, logged } = readings;
  const layout = layoutOf(trial);
  const columns = writtenColumns(readings, layout);
  const restart = restartRow(trial);
  const sink = new ByteSink(pieceSize + 1024);
  const head = headText(trial, layout, columns, 0);
  yield encodeText(layout.encoding.endsWith('with mark') ? `\uFEFF${head}` : head, layout);
  let part = 0;
  let rowStart = 0;
  for (let row = 0; row < logged.length; row++) {
    if (row === restart && row > 0) {
      part = row;
      yield encodeAscii(sink.take(), layout);
      yield encodeText(headText(trial, layout, columns, lastPartStart(trial)), layout);
    }
    rowStart = sink.length;
    writeRow(sink, columns, layout, row, row - part);
    if (sink.length >= pieceSize && row < logged.length - 1) yield encodeAscii(sink.take(), layout);
  }
  const rest = sink.take();
  const kept = layout.cut ? rowStart + Math.ceil((rest.length - rowStart) / 2) : rest.length;
  yield encodeAscii(rest.subarray(0, kept), layout);
  if (layout.blankLines > 0) yield encodeText(layout.lineEnd.repeat(layout.blankLines), layout);
}

/** Share of the baseline after which a logger begins again. */
const restartShare = 0.2;

/**
 * When the last part of the file begins, s from the first sample: 0 but where the dialect lets the logger begin again
 * during the baseline. Times that rows state then count from there.
 */
export function lastPartStart(trial: BenchTrial): number {
  return restartRow(trial) / trial.logger.rate;
}

function restartRow(trial: BenchTrial): number {
  if (!layouts[trial.logger.dialect].restarts) return 0;
  return Math.floor(restartShare * (trial.heatings[0]?.from ?? 0) * trial.logger.rate);
}

/** The dialect's layout, as it is after a spreadsheet has saved the file again where one has. */
function layoutOf(trial: BenchTrial): Layout {
  const own = layouts[trial.logger.dialect];
  if (!trial.logger.resaved) return own;
  return {
    ...own,
    encoding: 'latin-1',
    delimiter: ';',
    decimal: ',',
    lineEnd: '\r\n',
    width: 0,
    trailingDelimiter: false,
    cut: false,
    blankLines: 0,
  };
}

/** @param since when the part begins, s from the first sample */
function headText(trial: BenchTrial, layout: Layout, columns: readonly Column[], since: number): string {
  const { logger } = trial;
  const facts: HeadFacts = {
    bench: logger.bench.replace(/\p{Cc}+/gu, ' '),
    ...clockTexts(clockStart(trial, layout.time) + Math.floor(since)),
    rate: String(logger.statedRate ?? logger.rate).replace('.', layout.decimal),
    unit: unitText(trial, layout),
  };
  const labels = columns.map(({ label }) => label);
  const cells = labels.length + (layout.numbered ? 1 : 0);
  const rows = layout.header
    .rows(labels)
    .map((row) => row.map((cell) => cell.padStart(layout.width)).join(layout.delimiter));
  // A spreadsheet gives every line as many cells as the longest has, and takes quotes away.
  const lines = [...layout.preamble.lines(facts), ...rows].map((line) =>
    logger.resaved
      ? line.replaceAll('"', '') + ';'.repeat(Math.max(0, cells - line.split(';').length))
      : line,
  );
  const tail = layout.trailingDelimiter ? layout.delimiter : '';
  return lines.map((line) => line + (rows.includes(line) ? tail : '') + layout.lineEnd).join('');
}

function writeRow(
  sink: ByteSink,
  columns: readonly Column[],
  layout: Layout,
  row: number,
  since: number,
): void {
  const delimiter = layout.delimiter.charCodeAt(0);
  if (layout.numbered) {
    sink.whole(since + 1);
    sink.byte(delimiter);
  }
  for (let i = 0; i < columns.length; i++) {
    if (i > 0) sink.byte(delimiter);
    const from = sink.length;
    columns[i]?.write(sink, row, since);
    if (layout.width > 0) sink.padStart(from, layout.width);
  }
  if (layout.trailingDelimiter) sink.byte(delimiter);
  sink.ascii(layout.lineEnd);
}

function encodeText(text: string, { encoding }: Layout): Uint8Array {
  if (encoding === 'utf-16le with mark') {
    const bytes = new Uint8Array(2 * text.length);
    for (let i = 0; i < text.length; i++) {
      bytes[2 * i] = text.charCodeAt(i) & 0xff;
      bytes[2 * i + 1] = text.charCodeAt(i) >> 8;
    }
    return bytes;
  }
  if (encoding !== 'latin-1') return new TextEncoder().encode(text);
  return Uint8Array.from(text, (c) => (c.charCodeAt(0) < 256 ? c.charCodeAt(0) : 0x3f));
}

/** Bytes of ASCII in the file's encoding: only where a character has two bytes are they other ones. */
function encodeAscii(ascii: Uint8Array, { encoding }: Layout): Uint8Array {
  if (encoding !== 'utf-16le with mark') return ascii;
  const bytes = new Uint8Array(2 * ascii.length);
  for (let i = 0; i < ascii.length; i++) bytes[2 * i] = ascii[i] ?? 0;
  return bytes;
}
