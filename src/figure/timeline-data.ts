import type { StretchKind } from '../experiment/index.ts';
import type { FigureTable } from './table.ts';
import { drawable } from './thin.ts';

/** A stretch of a session, s from its first minute; what is made ready may begin before. */
export interface SessionStretch {
  readonly kind: StretchKind;
  readonly from: number;
  readonly to: number;
  /** Name of the condition that is measured; null where none is. */
  readonly condition: string | null;
  /** Counted from 1. */
  readonly repeat: number | null;
}

/** A session on one bench. */
export interface SessionFigureData {
  readonly stretches: readonly SessionStretch[];
  /** Length of the session, s; null where none is stated. */
  readonly length: number | null;
  /** Time of day of the first minute, min from midnight; null counts from the first minute. */
  readonly start: number | null;
  /** Time of the rule for now, s from the first minute; without it, or out of the session, none is drawn. */
  readonly now?: number | null;
  /** What does not fit: each with the stretches that it would take, from 0. */
  readonly notFitting: readonly {
    readonly condition: string;
    readonly stretches: readonly SessionStretch[];
  }[];
}

/** Each kind in a word or two. */
export const kindWords: Readonly<Record<SessionStretch['kind'], string>> = {
  'ice-bath': 'ice bath',
  'set-up': 'set-up',
  zeroing: 'zeroing',
  'change-over': 'change-over',
  baseline: 'baseline',
  heating: 'heating',
  cooling: 'cooling',
  settling: 'back to ambient',
  spare: 'spare',
  reserve: 'reserve',
};

/** What is drawn on one level: a trial with what leads up to it, or a thing by itself. */
export interface SessionRow {
  /** Condition of the row; null for what belongs to none. */
  readonly condition: string | null;
  readonly repeat: number | null;
  readonly stretches: readonly SessionStretch[];
}

/** More trials than this share the row of their condition. */
const mostTrialRows = 48;
/** Longest session that is drawn, s: two weeks. */
const longest = 14 * 86_400;

/** Stretches that can be drawn. */
export function soundStretches(stretches: readonly SessionStretch[]): readonly SessionStretch[] {
  return stretches
    .filter(
      ({ from, to }) => drawable(from) && drawable(to) && to > from && to <= longest && from >= -longest,
    )
    .slice(0, 20_000);
}

/**
 * A row a trial, with the change-over, the zeroing and the wait before it; a row a condition where there are too many
 * trials. What belongs to no trial, such as the set-up, has the first rows; spare time and reserve have none.
 */
export function sessionRows(stretches: readonly SessionStretch[]): readonly SessionRow[] {
  const sound = soundStretches(stretches).filter(({ kind }) => kind !== 'spare' && kind !== 'reserve');
  const trials = new Set(sound.flatMap((s) => (s.condition === null ? [] : [keyOf(s, true)])));
  const each = trials.size <= mostTrialRows;
  const rows: { condition: string | null; repeat: number | null; stretches: SessionStretch[] }[] = [];
  const places = new Map<string, number>();
  let before: SessionStretch[] = [];
  const ownRow = new Set<SessionStretch['kind']>(['ice-bath', 'set-up']);
  for (const stretch of sound) {
    if (ownRow.has(stretch.kind) && places.size === 0) {
      rows.push({ condition: null, repeat: null, stretches: [stretch] });
      continue;
    }
    // A wait behind a trial leads up to the next one.
    if (stretch.condition === null || stretch.kind === 'settling') {
      before.push(stretch);
      continue;
    }
    const key = keyOf(stretch, each);
    const place = places.get(key);
    const row = place === undefined ? undefined : rows[place];
    if (row === undefined) {
      places.set(key, rows.length);
      rows.push({
        condition: stretch.condition,
        repeat: each ? stretch.repeat : null,
        stretches: [...before, stretch],
      });
    } else {
      row.stretches.push(...before, stretch);
    }
    before = [];
  }
  if (before.length > 0) rows.push({ condition: null, repeat: null, stretches: before });
  return rows;
}

function keyOf({ condition, repeat }: SessionStretch, each: boolean): string {
  return JSON.stringify([condition, each ? repeat : null]);
}

/** Steps of the axis, min. */
const steps = [1, 2, 5, 10, 15, 30, 60, 120, 240, 480, 1440, 2880] as const;

/**
 * Round minutes within a stretch of time, s, at most so many.
 *
 * @param start min from midnight of the first minute, so that the marks are round by the clock
 */
export function minuteTicks(from: number, to: number, most: number, start: number): readonly number[] {
  const step = steps.find((one) => (to - from) / 60 / one <= most) ?? Math.ceil((to - from) / 60 / most);
  const first = Math.ceil((from / 60 + start) / step) * step - start;
  const ticks: number[] = [];
  for (let minute = first; minute * 60 <= to && ticks.length < 200; minute += step) ticks.push(minute * 60);
  return ticks;
}

/** `0:45` from the first minute, `−0:15` before it, or the time of day. */
export function clockText(seconds: number, start: number | null): string {
  const minute = Math.round(seconds / 60);
  const day = 24 * 60;
  const shown = start === null ? Math.abs(minute) : (((minute + start) % day) + day) % day;
  const sign = start === null && minute < 0 ? '\u2212' : '';
  return `${sign}${Math.floor(shown / 60)}:${String(shown % 60).padStart(2, '0')}`;
}

/**
 * A duration in words: `45 s`, `8.8 min`, `2 h 5 min`.
 *
 * @param seconds s, at least 0
 */
export function durationText(seconds: number): string {
  if (seconds < 59.5) return `${Math.round(seconds)} s`;
  const minutes = seconds / 60;
  if (minutes < 9.95) return `${Number(minutes.toFixed(1))} min`;
  const whole = Math.round(minutes);
  if (whole < 120) return `${whole} min`;
  return whole % 60 === 0 ? `${whole / 60} h` : `${Math.floor(whole / 60)} h ${whole % 60} min`;
}

/** The numbers behind the time line: every stretch, and then what does not fit. */
export function timelineTable(data: SessionFigureData): FigureTable {
  return {
    caption: 'The session on one bench, times from its first minute',
    columns: [
      { name: 'From', unit: 'min' },
      { name: 'To', unit: 'min' },
      { name: 'What', unit: null },
      { name: 'Condition', unit: null },
      { name: 'Trial', unit: null },
    ],
    rows: [
      ...data.stretches.map((s) => [s.from / 60, s.to / 60, kindWords[s.kind], s.condition, s.repeat]),
      ...(typeof data.now === 'number' ? [[data.now / 60, null, 'now', null, null]] : []),
      ...data.notFitting.map(({ condition }) => [null, null, 'does not fit', condition, null]),
    ],
  };
}
