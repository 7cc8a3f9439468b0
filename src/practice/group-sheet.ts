import type { BenchReadings } from './bench-types.ts';
import { shownDegrees } from './group-degrees.ts';
import type { SheetPlan } from './group-slips.ts';
import type { GroupHabits } from './group-task.ts';

/** What a group takes from a recording: s, or what it takes for s; null for what comes to nothing. */
export interface SheetValues {
  readonly point: number | null;
  readonly origin: number | null;
  readonly intercept: number | null;
  readonly standard: number | null;
  readonly expanded: number | null;
}

const none: SheetValues = { point: null, origin: null, intercept: null, standard: null, expanded: null };

interface Row {
  readonly clock: number;
  /** As counted by the group. */
  readonly x: number;
  readonly fraction: number;
}

/**
 * A group's spreadsheet: time, temperature, error fraction and its logarithm, a line through each.
 *
 * @param room temperature that a thermometer in the room shows, °C; null where the file names none
 */
export function groupSheet(
  readings: BenchReadings,
  plan: SheetPlan,
  habits: GroupHabits,
  room: number | null,
): SheetValues {
  const { rate } = readings.trial.logger;
  const shown = shownDegrees(readings, plan.scale);
  const every = Math.max(1, Math.round(shown.length / habits.rows));
  const values = Array.from({ length: Math.ceil(shown.length / every) }, (_, i) => shown[i * every] ?? 0);
  const clockOf = (row: number) => (row * every) / rate;
  const { heatOn, heatOff } = readings.truth;
  const rowAt = (time: number) => Math.ceil((time * rate) / every - 1e-9);
  const knee = rowAt(heatOff);
  const hottest = values.reduce(
    (best, value, row) => (value > (values[best] ?? 0) ? row : best),
    rowAt(heatOn),
  );
  const start = habits.fromKnee ? knee : hottest;
  const ambient = ambientOf(values, plan, room, {
    from: rowAt(Math.max(0, heatOn - habits.baseline)),
    to: Math.max(1, rowAt(heatOn)),
  });
  const top = values[start] ?? Number.NaN;
  if (ambient === null || !(top > ambient)) return none;
  const zero = { start: clockOf(start), file: 0, heating: heatOn }[plan.zero];
  const second = plan.second ?? rate;
  const rows: Row[] = values.flatMap((value, row) => {
    const clock = clockOf(row);
    if (row < (plan.keepHeating ? rowAt(heatOn) : start)) return [];
    return [{ clock, x: (clock - zero) * second, fraction: (value - ambient) / (top - ambient) }];
  });
  const inside = rows.filter(({ fraction }) => {
    return fraction > 0 && (!plan.window || (fraction < habits.upper && fraction > habits.lower));
  });
  const origin = lineThrough(inside, plan, 0);
  const intercept = lineThrough(inside, plan, inside.reduce((sum, { x }) => sum + x, 0) / inside.length);
  return {
    point: pointOf(rows, plan.level, habits.firstBelow),
    origin: origin === null ? null : handed(origin.slope, plan),
    intercept: intercept === null ? null : handed(intercept.slope, plan),
    ...uncertainties(origin, plan),
  };
}

function ambientOf(
  values: readonly number[],
  { subtract, scale }: SheetPlan,
  room: number | null,
  baseline: { readonly from: number; readonly to: number },
): number | null {
  if (subtract === 'nothing') return 0;
  if (subtract === 'last') return values.at(-1) ?? null;
  if (subtract === 'room') return room === null || scale === 'volts' ? null : room;
  const own = values.slice(Math.min(baseline.from, baseline.to - 1), baseline.to);
  return own.reduce((sum, value) => sum + value, 0) / own.length;
}

interface Line {
  readonly slope: number;
  readonly error: number;
  readonly points: number;
}

/** Through the origin, or through the middle of the points. */
function lineThrough(rows: readonly Row[], { logarithm }: SheetPlan, middle: number): Line | null {
  if (rows.length < 6) return null;
  const y = rows.map(({ fraction }) => (logarithm === 'ln' ? Math.log(fraction) : Math.log10(fraction)));
  const level = middle === 0 ? 0 : y.reduce((sum, one) => sum + one, 0) / y.length;
  let products = 0;
  let squares = 0;
  rows.forEach(({ x }, i) => {
    products += (x - middle) * ((y[i] ?? 0) - level);
    squares += (x - middle) ** 2;
  });
  const slope = products / squares;
  const rest = rows.reduce((sum, { x }, i) => sum + ((y[i] ?? 0) - level - slope * (x - middle)) ** 2, 0);
  const error = Math.sqrt(rest / (rows.length - (middle === 0 ? 1 : 2)) / squares);
  return Number.isFinite(slope) && slope !== 0 ? { slope, error, points: rows.length } : null;
}

function handed(slope: number, { hand, decimals }: SheetPlan): number | null {
  const seen = decimals === null ? slope : Number(slope.toFixed(decimals));
  if (hand === 'slope') return Math.abs(seen);
  if (seen === 0) return null;
  return hand === 'negative' ? 1 / seen : -1 / seen;
}

/** Time of the level, as the group counts it; on the way down, or up where the heating was kept. */
function pointOf(rows: readonly Row[], level: number, firstBelow: boolean): number | null {
  const rising = (rows[0]?.fraction ?? 1) < level;
  const at = rows.findIndex(({ fraction }) => (rising ? fraction >= level : fraction <= level));
  const [before, after] = [rows[at - 1], rows[at]];
  if (before === undefined || after === undefined) return null;
  if (firstBelow && !rising) return after.x;
  const part = (before.fraction - level) / (before.fraction - after.fraction);
  return before.x + part * (after.x - before.x);
}

/** Student's t for 95 %, within 0.01 of any table from eight degrees of freedom up. */
function studentFactor(freedom: number): number {
  return 1.96 + 2.37 / freedom + 2.9 / freedom ** 2;
}

function uncertainties(
  line: Line | null,
  { error, expand, expandFirst }: SheetPlan,
): Pick<SheetValues, 'standard' | 'expanded'> {
  if (line === null) return { standard: null, expanded: null };
  const standard = error === 'slope' ? line.error : line.error / line.slope ** 2;
  const factor = studentFactor(line.points - 1);
  return {
    standard: expandFirst ? standard * factor : standard,
    expanded: expand ? standard * factor : standard,
  };
}
