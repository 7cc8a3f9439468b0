import { findColumn } from './channels.ts';
import { findDateOrder } from './clock.ts';
import type { Column } from './columns.ts';
import { indexName, isSensorName, timeName } from './names.ts';
import { stampFacts } from './stamps.ts';
import { clockOf, rawTime, type TimeCells } from './timecell.ts';
import { refuseTime, type TimeEvidence } from './timeevidence.ts';

/** A time that is written in the rows. */
export type WrittenTime = Exclude<TimeCells, { kind: 'rows' }>;
export type ClockCells = Extract<TimeCells, { kind: 'clock' }>;

/** Cells of the column that the caller names. */
export function givenTime(evidence: TimeEvidence, key: string | number): WrittenTime {
  const column = findColumn(evidence.columns, key, '--time-column', evidence);
  if (column.kind === 'clock') return clockCells(evidence, column);
  if (column.kind === 'number') return { kind: 'number', column: column.index, suffix: column.suffix };
  return refuseTime(
    evidence,
    'time-unusable',
    `Column ${column.index + 1}${column.name === '' ? '' : ` ("${column.name}")`} holds neither numbers nor times of day.`,
    'Name another column with --time-column; if there is none, give --time-column none and --rate, as "100 Hz" or "10 ms".',
  );
}

/** The column, or pair of columns, that is most likely the time; null where none is. */
export function likeliestTime(evidence: TimeEvidence): WrittenTime | null {
  let best: { cells: WrittenTime; points: number } | null = null;
  for (const column of evidence.columns) {
    const cells: WrittenTime | null =
      column.kind === 'clock'
        ? clockCells(evidence, column)
        : column.kind === 'number'
          ? { kind: 'number', column: column.index, suffix: column.suffix }
          : null;
    if (cells === null) continue;
    const points = timePoints(column, cells, evidence);
    if (points > 0 && (best === null || points > best.points)) best = { cells, points };
  }
  return best?.cells ?? null;
}

function timePoints(column: Column, cells: WrittenTime, evidence: TimeEvidence): number {
  const raw = evidence.rows.map((row, i) => rawTime(row, cells, evidence.style, i));
  const stamps = stampFacts(raw);
  const name = lowerName(column);
  if (cells.kind === 'clock') {
    if (cells.time === null && column.sample.every((cell) => !cell.includes(':'))) return 0;
    return stamps.rising < 0.5 ? 1 : stamps.repeats > 0.3 ? 2.5 : 4;
  }
  if (column.unit?.kind === 'time') return stamps.rising < 0.5 ? 0 : stamps.repeats > 0.3 ? 2.4 : 5;
  if (column.unit !== null || stamps.rising < 0.5) return 0;
  const only = evidence.columns.filter((c) => c.kind === 'number').length === 1;
  if (only) return 0;
  if (timeName.test(name) && column.name !== 'T') return stamps.repeats > 0.3 ? 2.3 : 3;
  if (indexName.test(name)) return 2;
  if (!stamps.even || stamps.rising <= 0.95) return 0;
  if (name === '') return column.index <= 1 ? 1.5 - column.index * 0.1 : 0;
  // No sensor rises evenly row for row: a first column that does is a time or a number of samples.
  const steady = stamps.rising === 1 && stamps.repeats === 0 && evidence.rows.length >= fewestSteady;
  return column.index === 0 && steady && !isSensorName(column.name) ? 1.2 : 0;
}

/** Rows from which an even rise is no accident. */
const fewestSteady = 10;

/** A column's name for comparison. */
export function lowerName(column: Column): string {
  return column.name.trim().toLowerCase();
}

function clockCells(evidence: TimeEvidence, column: Column): ClockCells {
  const hasTime = column.sample.some((cell) => cell.includes(':'));
  const hasDate = column.sample.some((cell) => /^\d{1,4}[-./]/.test(cell) && !/^\d+:/.test(cell));
  const clocks = evidence.columns.filter((c) => c.kind === 'clock' && c !== column);
  const other = clocks.find((c) => {
    const times = c.sample.some((cell) => cell.includes(':'));
    const dates = c.sample.some((cell) => /^\d{1,4}[-./](?:\d{1,2}|[A-Za-z]{3,9})[-./]/.test(cell));
    return hasTime ? dates && !times : times && !dates;
  });
  const date = hasDate ? column.index : (other?.index ?? null);
  const time = hasDate ? (hasTime ? null : (other?.index ?? null)) : column.index;
  const texts = date === null ? [] : evidence.rows.map((row) => row[date] ?? '');
  const { order } = findDateOrder(texts);
  const first = evidence.rows.map((row) => clockOf(row, { date, time, order })).find((m) => m !== null);
  return { kind: 'clock', date, time, order, firstDay: first?.day ?? 0 };
}
