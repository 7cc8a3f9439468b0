import type { Span } from '../remark/index.ts';
import { median } from '../statistics/index.ts';
import { meanOf } from './segment-range.ts';
import { at, converterStep, firstAtOrAfter, type Series } from './segment-series.ts';

/** Parts of the signal's range, for 90 K: what of a warming by hand is left (0.05 K), what is seen as one (0.3 K),
 * and the least scatter of a quiet stretch (0.02 K). Parts, so that marks do not depend on the scale. */
const parts = { leftOver: 0.0006, seen: 0.0033, scatter: 0.0002 };

/** Shortest quiet stretch of any body, s, and of a body whose time constant is shorter than that. */
const usualLeast = 2;
const shortestLeast = 0.5;

/** What is known of the trial when its quiet part is looked for. */
export interface QuietFacts {
  /** Highest level that can be ambient, °C. */
  readonly ceiling: number;
  /** Range of the signal, K. */
  readonly range: number;
  /** Rough time constant of the body, s. */
  readonly timeConstant: number;
}

/**
 * The quiet part of what lies before a rise. A guard is cut off its end. A warming within it (a hand on the
 * sensor, the rest of an earlier heating) is cut out until, by the body's own time constant, hardly any
 * of it is left. Then whatever still climbs at an end is cut off it. Of several quiet parts the longest is taken.
 *
 * @param series points
 * @param from s
 * @param onset when the rise began, s
 * @param facts of the trial
 * @returns null where fewer than four points are left, or a stretch shorter than two seconds and the time constant
 *   (at least half a second, with ten points)
 */
export function quietStretch(series: Series, from: number, onset: number, facts: QuietFacts): Span | null {
  const guard = Math.max(3 * series.width, 0.05 * (onset - from));
  const whole = { from: firstAtOrAfter(series.time, from), to: firstAtOrAfter(series.time, onset - guard) };
  if (whole.to - whole.from < 4) return null;
  const stretches = apartFromWarming(series, whole, facts, 4)
    .flatMap((run) => quietRuns(series, run, parts.scatter * facts.range))
    .map((run) => trimSlopes(series, run.from, run.to));
  const least = Math.min(usualLeast, Math.max(shortestLeast, facts.timeConstant));
  const best =
    longest(series, stretches, least) ?? longest(series, [trimSlopes(series, whole.from, whole.to)], least);
  if (best === null) return null;
  const mean = meanOf(series.value, best.run.from, best.run.to);
  return mean < facts.ceiling ? best.span : null;
}

function longest(series: Series, runs: readonly Run[], least: number): { run: Run; span: Span } | null {
  let best: { run: Run; span: Span } | null = null;
  for (const run of runs) {
    if (run.to - run.from < (least < usualLeast ? 10 : 4)) continue;
    const span = {
      from: Math.max(0, at(series.time, run.from) - series.width / 2),
      to: at(series.time, run.to - 1) + series.width / 2,
    };
    const length = span.to - span.from;
    if (length >= least && (best === null || length > best.span.to - best.span.from)) best = { run, span };
  }
  return best;
}

/** What is left of a stretch when warmings are cut out of it, one after the other. */
function apartFromWarming(series: Series, run: Run, facts: QuietFacts, rounds: number): Run[] {
  const leftOver = parts.leftOver * facts.range;
  const length = at(series.time, run.to - 1) - at(series.time, run.from);
  const group = Math.max(2, Math.round(Math.min(3, Math.max(0.5, length / 12)) / series.width));
  const means: number[] = [];
  for (let i = run.from; i + group <= run.to; i += group) means.push(meanOf(series.value, i, i + group));
  if (means.length < 5 || rounds === 0) return [run];
  const steps = means.slice(1).map((m, i) => Math.abs(m - at(means, i)));
  const scatter = (1.4826 * median(steps)) / Math.SQRT2;
  const lowest = at(
    [...means].sort((a, b) => a - b),
    means.length >= 8 ? 1 : 0,
  );
  const highest = Math.max(...means);
  const bump = highest - lowest;
  if (bump <= Math.max(parts.seen * facts.range, 6 * scatter)) return [run];
  const peak = means.indexOf(highest);
  let start = peak;
  while (start > 0 && at(means, start - 1) > lowest + Math.max(3 * scatter, 0.05 * bump)) start--;
  const end = at(series.time, run.from + peak * group) + facts.timeConstant * Math.log(bump / leftOver);
  const before = { from: run.from, to: Math.max(run.from, run.from + (start - 1) * group) };
  const after = {
    from: Math.max(run.from + (peak + 1) * group, firstAtOrAfter(series.time, end)),
    to: run.to,
  };
  return [before, after]
    .filter((piece) => piece.to - piece.from >= 4)
    .flatMap((piece) => apartFromWarming(series, piece, facts, rounds - 1));
}

interface Run {
  from: number;
  to: number;
}

/** Runs within a stretch whose means over half a second stay within the scatter of its lower half. */
function quietRuns(series: Series, stretch: Run, least: number): Run[] {
  const values = series.value.subarray(stretch.from, stretch.to);
  const sorted = new Float64Array(values).sort();
  const quarter = at(sorted, Math.floor(sorted.length / 4));
  const low = at(sorted, Math.floor(sorted.length / 20));
  // For a normal scatter the fifth and the 25th percentile are 0.97 standard deviations apart.
  const scatter = Math.max((quarter - low) / 0.97, converterStep(sorted), least);
  const limit = quarter + 4.7 * scatter;
  const halfWidth = Math.max(1, Math.round(0.25 / series.width));
  const runs: Run[] = [];
  let open: Run | null = null;
  for (let i = 0; i < values.length; i++) {
    const lo = Math.max(0, i - halfWidth);
    const hi = Math.min(values.length, i + halfWidth + 1);
    let sum = 0;
    for (let k = lo; k < hi; k++) sum += at(values, k);
    if (sum / (hi - lo) > limit) {
      open = null;
      continue;
    }
    if (open === null) {
      open = { from: stretch.from + i, to: stretch.from + i };
      runs.push(open);
    }
    open.to = stretch.from + i + 1;
  }
  return runs;
}

/** Cuts 7 % at a time off an end whose tenth stands clearly above the far 70 % (2.5 standard deviations of it). */
function trimSlopes(series: Series, from: number, to: number): Run {
  const run = { from, to };
  for (let round = 0; round < 40; round++) {
    const n = run.to - run.from;
    if (n < 12) break;
    const tenth = Math.max(2, Math.round(0.1 * n));
    const cut = Math.max(1, Math.round(0.07 * n));
    const bulk = Math.round(0.7 * n);
    const spreadOf = (a: number, b: number) => standsAbove(series, a, b, tenth);
    const end = spreadOf(run.from, run.from + bulk);
    const start = spreadOf(run.to - bulk, run.to);
    if (meanOf(series.value, run.to - tenth, run.to) > end) run.to -= cut;
    else if (meanOf(series.value, run.from, run.from + tenth) > start) run.from += cut;
    else break;
  }
  return run;
}

/** Mean of a stretch and 2.5 standard deviations of the means of `group` points in it. */
function standsAbove(series: Series, from: number, to: number, group: number): number {
  const mean = meanOf(series.value, from, to);
  let squares = 0;
  let groups = 0;
  for (let i = from; i + group <= to; i += group) {
    squares += (meanOf(series.value, i, i + group) - mean) ** 2;
    groups++;
  }
  return mean + 2.5 * Math.sqrt(squares / Math.max(1, groups - 1));
}
