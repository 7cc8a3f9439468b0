import type { Remark } from '../remark/index.ts';
import { findDateOrder, isoMoment } from './clock.ts';
import { close, ratesTold, spacingOf, type ToldRate, toldRate } from './rates.ts';
import { type StampFacts, stampFacts } from './stamps.ts';
import { clockOf, rawTime, type TimeCells } from './timecell.ts';
import { type ClockCells, givenTime, likeliestTime } from './timechoice.ts';
import { refuseTime, type TimeEvidence } from './timeevidence.ts';
import { perUnit, rollOvers, timeAssumed, timeUnitOf } from './timeunit.ts';
import type { TimeBasis } from './types.ts';

/** How rows become moments. Raw times are what `rawTime` gives. */
export interface TimePlan {
  readonly cells: TimeCells;
  /** Columns that hold times, used or overruled by a rate, counted from 0: none of them is a reading. */
  readonly columns: readonly number[];
  readonly basis: TimeBasis;
  /** Seconds from raw times: (raw - first) * times / over. */
  readonly times: number;
  readonly over: number;
  /** Usual spacing of the samples, s. */
  readonly samplePeriod: number;
  /** Usual step from one time stamp to the next different one, raw. */
  readonly step: number;
  /** Step from which a stamp is finer than it shows: the last decimal of the stamps, raw. */
  readonly resolution: number;
  /** Whether stamps repeat and their samples are to be spread between them. */
  readonly spread: boolean;
  /** Which jumps of the clock are expected and taken out. */
  readonly clock: 'none' | 'midnight' | 'daylight-saving';
  /** Raw times at which a counter of 32 bits, or a clock of minutes and seconds, begins again at zero. */
  readonly rollOvers: readonly number[];
  readonly startedAt: string | null;
  /** Seconds that the zone stated in the stamps is ahead of UTC; null without one. */
  readonly zone: number | null;
  /** Rate that the time column itself shows, Hz; null without one. */
  readonly columnRate: number | null;
  readonly remarks: readonly Remark[];
}

const hour = 3600;
const formats = { s: 'seconds', ms: 'milliseconds', us: 'microseconds', min: 'minutes', h: 'hours' } as const;

/**
 * Decides where the time comes from.
 *
 * @throws RecordingError `rate-needed`, `time-unit-needed`, `time-unusable`
 */
export function planTime(evidence: TimeEvidence): TimePlan {
  const { options } = evidence;
  const given = options.timeColumn;
  const none = typeof given === 'string' && given.trim().toLowerCase() === 'none';
  const cells = none ? null : given === undefined ? likeliestTime(evidence) : givenTime(evidence, given);
  if (cells === null) return planRows(evidence, none ? idleTimes(evidence) : []);
  const raw = evidence.rows.map((row, i) => rawTime(row, cells, evidence.style, i));
  const stamps = stampFacts(raw);
  const plan =
    cells.kind === 'clock' ? planClock(evidence, cells, stamps) : planNumbers(evidence, cells, stamps);
  return withRates(plan, evidence);
}

/** Columns of times that the caller has no use for; empty where nothing else would be left to read. */
function idleTimes(evidence: TimeEvidence): readonly number[] {
  const likely = likeliestTime(evidence);
  const columns = likely === null ? [] : columnsOf(likely);
  const left = evidence.columns.some((c) => c.kind === 'number' && !columns.includes(c.index));
  return left ? columns : [];
}

function columnsOf(cells: TimeCells): number[] {
  if (cells.kind === 'rows') return [];
  if (cells.kind === 'number') return [cells.column];
  return [cells.date, cells.time].filter((column) => column !== null);
}

function planRows(evidence: TimeEvidence, columns: readonly number[]): TimePlan {
  const told = toldRate(evidence);
  if (told === null) {
    return refuseTime(
      evidence,
      'rate-needed',
      'No column was seen to be the time, and the header states no sampling rate.',
      'Name the time column with --time-column and its unit with --time-unit, or say how often the logger sampled with --rate, as "100 Hz" or "10 ms".',
    );
  }
  const { hertz: rate, from: rateFrom, source } = told;
  return {
    cells: { kind: 'rows' },
    columns,
    basis: { kind: 'none', rateFrom },
    times: 1,
    over: rate,
    samplePeriod: 1 / rate,
    step: 1,
    resolution: 0,
    spread: false,
    clock: 'none',
    rollOvers: [],
    startedAt: evidence.facts.startedAt,
    zone: null,
    columnRate: null,
    remarks: [
      timeAssumed(
        'note',
        `No time column was read; rows were placed ${Number((1 / rate).toPrecision(6))} s apart by the rate ${source}, ${rate} Hz.`,
        'A wrong rate makes every time wrong by the same factor: check it once against a stopwatch.',
      ),
      ...ratesTold(evidence, null),
    ],
  };
}

function planNumbers(
  evidence: TimeEvidence,
  cells: Extract<TimeCells, { kind: 'number' }>,
  stamps: StampFacts,
): TimePlan {
  const column = evidence.columns[cells.column];
  const { unit, remarks, rateFrom } = timeUnitOf(evidence, column, stamps);
  const rate = evidence.options.rate ?? evidence.facts.rate?.hertz ?? 1;
  const [times, over] = unit === 'index' ? [1, rate] : perUnit[unit];
  const basis: TimeBasis =
    unit === 'index'
      ? { kind: 'index-column', column: cells.column + 1, rateFrom }
      : { kind: 'column', column: cells.column + 1, format: formats[unit] };
  const plan = finish(evidence, cells, basis, stamps, times, over, remarks);
  const first = Number(evidence.rows[0]?.[cells.column]);
  const epoch = (first * times) / over;
  const sinceEpoch = unit !== 'index' && epoch > 9e8 && epoch < 5e9;
  return {
    ...plan,
    columnRate: unit === 'index' ? null : plan.columnRate,
    rollOvers: unit === 'index' ? [] : rollOvers[unit],
    startedAt: sinceEpoch ? isoMoment(Math.floor(epoch / 86400), epoch % 86400, 0) : evidence.facts.startedAt,
  };
}

function planClock(evidence: TimeEvidence, cells: ClockCells, stamps: StampFacts): TimePlan {
  const remarks: Remark[] = [];
  const column = cells.date ?? cells.time ?? 0;
  const texts = cells.date === null ? [] : evidence.rows.map((row) => row[column] ?? '');
  if (findDateOrder(texts).ambiguous) {
    remarks.push({
      code: 'numbers-guessed',
      severity: 'note',
      message: `Dates such as ${(texts[0] ?? '').slice(0, 24)} could put the day or the month first; ${cells.order === 'dmy' ? 'the day' : 'the month'} was taken to come first.`,
      action: 'This only changes the date of the start.',
    });
  }
  const first = evidence.rows.map((row) => clockOf(row, cells)).find((m) => m !== null && m.seconds !== null);
  const basis: TimeBasis = {
    kind: 'column',
    column: column + 1,
    format: cells.date === null ? 'time-of-day' : 'date-time',
  };
  const hasHour = first?.hasHour ?? true;
  // Stamps that are all the same still show by their last place when they will change.
  const shown = stamps.stuck ? { ...stamps, step: first?.place ?? stamps.step } : stamps;
  const plan = finish(evidence, cells, basis, shown, 1, 1, remarks);
  const day = evidence.facts.startedAt?.slice(0, 10) ?? null;
  const ownDay = first?.day ?? null;
  const seconds = first?.seconds ?? 0;
  const startedAt =
    ownDay !== null
      ? isoMoment(ownDay, seconds, first?.zone ?? null)
      : day === null || !hasHour
        ? evidence.facts.startedAt
        : isoMoment(Date.parse(`${day}T00:00:00Z`) / 86400e3, seconds, null);
  const clock = cells.date === null ? 'midnight' : first?.zone == null ? 'daylight-saving' : 'none';
  return {
    ...plan,
    startedAt,
    zone: first?.zone ?? null,
    clock,
    rollOvers: hasHour ? [] : [hour],
  };
}

function finish(
  evidence: TimeEvidence,
  cells: TimeCells,
  basis: TimeBasis,
  stamps: StampFacts,
  times: number,
  over: number,
  remarks: readonly Remark[],
): TimePlan {
  const shown = tidyPeriod((stamps.samplePeriod * times) / over);
  const column = (columnsOf(cells)[0] ?? 0) + 1;
  const { period: samplePeriod, told } = spacingOf(evidence, stamps, shown, times / over, column);
  if (!(samplePeriod > 0) || !Number.isFinite(samplePeriod)) {
    return refuseTime(
      evidence,
      'time-unusable',
      `Column ${column}, read as the time, ${stamps.stuck ? `is the same in all of the first ${evidence.rows.length} rows` : 'does not rise'}.`,
      'Say how often the logger sampled with --rate, as "100 Hz" or "10 ms", or name another column with --time-column.',
    );
  }
  return {
    cells,
    columns: columnsOf(cells),
    basis,
    times,
    over,
    samplePeriod,
    step: stamps.step > 0 ? stamps.step : (samplePeriod * over) / times,
    resolution: stamps.resolution,
    spread: stamps.hasRepeats,
    clock: 'none',
    rollOvers: [],
    startedAt: evidence.facts.startedAt,
    zone: null,
    columnRate: told === null ? 1 / samplePeriod : null,
    remarks: stamps.hasRepeats
      ? [...remarks, spreadRemark((stamps.step * times) / over, samplePeriod, told)]
      : remarks,
  };
}

/** @param step from stamp to stamp, s; @param told the rate that was needed, if one was */
function spreadRemark(step: number, samplePeriod: number, told: ToldRate | null): Remark {
  const every = Number(step.toPrecision(3));
  const each = Number((step / samplePeriod).toPrecision(3));
  return {
    code: 'time-repaired',
    severity: 'note',
    message:
      told === null
        ? `Time stamps come every ${every} s and repeat, about ${each} samples to a stamp; the samples were spread evenly between the stamps.`
        : `Time stamps repeat, and none was seen whole at the start; the samples were spread by the rate ${told.source}, ${told.hertz} Hz.`,
    action:
      'Let the logger write finer times, if it can; if another program has saved the file since, use it as the logger wrote it.',
  };
}

/** The caller's rate overrules the column, the column overrules the header; neither in silence. */
function withRates(plan: TimePlan, evidence: TimeEvidence): TimePlan {
  const { options } = evidence;
  const own = plan.columnRate;
  const remarks = [...plan.remarks, ...ratesTold(evidence, own)];
  const overruled = own !== null && options.rate !== undefined && !close(own, options.rate);
  if (!overruled || options.rate === undefined) return { ...plan, remarks };
  const rows = planRows(evidence, plan.columns);
  return { ...rows, startedAt: plan.startedAt, remarks };
}

/** A period within a millionth of that of a whole rate, or of a short decimal, is meant to be that. */
function tidyPeriod(period: number): number {
  const rate = Math.round(1 / period);
  if (rate >= 1 && Math.abs(rate * period - 1) < 1e-6) return 1 / rate;
  return Number(period.toPrecision(9));
}
