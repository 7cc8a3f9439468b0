import { formatSignificant } from '../quantity/index.ts';
import type { Remark } from '../remark/index.ts';
import { type ProcessChange, processChange } from './change.ts';
import { type ControlLimits, ewmaChart, individualsChart, rangeFreedom } from './control.ts';
import { type FollowedKind, followedKind, type RigSeries } from './rig-series.ts';

/** A series with its limits and what changed in it. */
export interface RigChart extends RigSeries {
  /** Limits of single values at three standard deviations; null where the points are too few, or all alike. */
  readonly limits: ControlLimits | null;
  /** Points that the limits are made from: those before a step where there are enough, else all. */
  readonly limitsFrom: number;
  /** The limits will still move: they rest on fewer than ten degrees of freedom. */
  readonly provisional: boolean;
  /** Relative standard uncertainty of the standard deviation that the limits are made of; null without limits. */
  readonly doubt: number | null;
  /** Exponentially weighted moving average, a point each; null without limits. */
  readonly averages:
    | readonly { readonly value: number; readonly lower: number; readonly upper: number }[]
    | null;
  /** Numbers of the points outside the limits, from 0; and of the averages outside theirs. */
  readonly outside: readonly number[];
  readonly averagesOutside: readonly number[];
  readonly change: ProcessChange | null;
  /** One sentence: what changed and when, or that it is steady, or that nothing can be said yet. */
  readonly finding: string;
  /** The same with bench and thing in front. */
  readonly sentence: string;
  /** One sentence: what to look at; null where nothing changed. */
  readonly look: string | null;
}

/** Useful limits begin with five or six values (Wheeler, Understanding Variation, 2nd ed. 2000, p. 60). */
const fewestForLimits = 6;
/** Below so many degrees of freedom limits are to be made again as points come in (Wheeler, Quality Digest, June 1997). */
const settledFreedom = 10;
/** Weight of the newest value: 0.2 to 0.3 is usual (NIST/SEMATECH e-Handbook, 6.3.2.4). */
const weight = 0.2;

/** Every series with its limits and what changed in it. */
export function rigCharts(series: readonly RigSeries[]): RigChart[] {
  return series.map(rigChart);
}

/**
 * Limits of a series: individuals with moving range, and the exponentially weighted moving average for slow drift. Where
 * a step is found after enough points, the limits are those of before it, so that what came later is held against them.
 */
function rigChart(series: RigSeries): RigChart {
  const { points } = series;
  const change = changeIn(points);
  const stepped = change?.kind === 'step' && change.index >= fewestForLimits;
  const base = stepped ? points.slice(0, change.index) : points;
  const bare = {
    ...series,
    limits: null,
    limitsFrom: 0,
    provisional: false,
    doubt: null,
    averages: null,
    outside: [],
    averagesOutside: [],
    change,
  };
  if (base.length < fewestForLimits) {
    const sentence = `${counted(points.length)}: limits need ${fewestForLimits}.`;
    return { ...bare, ...told(series, sentence), look: null };
  }
  const { limits, deviation } = individualsChart(base);
  if (!(deviation > 0)) {
    const sentence = `all ${points.length} values are the same, so that limits cannot be made.`;
    return { ...bare, ...told(series, sentence), look: null };
  }
  const process = { centre: limits.centre, deviation };
  const whole = individualsChart(points, process);
  const ewma = ewmaChart(points, weight, process);
  const freedom = rangeFreedom(base.length);
  const judged = {
    ...bare,
    limits,
    limitsFrom: base.length,
    provisional: freedom < settledFreedom,
    doubt: 1 / Math.sqrt(2 * freedom),
    averages: ewma.averages.map((value, i) => {
      const own = ewma.limits[i] ?? limits;
      return { value, lower: own.lower, upper: own.upper };
    }),
    outside: whole.outside,
    averagesOutside: ewma.outside,
  };
  const said = saidOf(judged, change);
  return {
    ...judged,
    ...told(series, said ?? steadyWords(judged)),
    look: said === null ? null : followedKind(series.kind).look,
  };
}

/**
 * The change by the order of the points: terms lie half a year apart, and by the clock every step from one to the next
 * would be a drift as well.
 */
function changeIn(points: RigSeries['points']): ProcessChange | null {
  const found = processChange(points.map(({ value }, place) => ({ at: place, value })));
  return found === null ? null : { ...found, at: points[found.index]?.at ?? 0 };
}

/** What changed, as a remark about the rig; null where nothing did. */
export function rigChangeRemark({ kind, sentence, look }: RigChart): Remark | null {
  if (look === null) return null;
  // The air of the jet follows the season.
  const severity = kind === 'jet-temperature' ? 'note' : 'caution';
  return { code: 'rig-changed', severity, message: sentence, action: look };
}

type Judged = Omit<RigChart, 'finding' | 'sentence' | 'look'>;

/** Null where nothing stands out. */
function saidOf(chart: Judged, change: ProcessChange | null): string | null {
  if (change !== null) return changeWords(chart, change);
  const { points, outside, averagesOutside, provisional } = chart;
  const last = outside.at(-1);
  if (last !== undefined) {
    const at = points[last]?.at ?? 0;
    const others = outside.length === 1 ? '' : `, and ${outside.length - 1} before it`;
    const once = outside.length === 1 ? ': repeat it before anything is changed' : '';
    return `the value of ${dateOf(at)} lies outside its ${provisional ? 'provisional ' : ''}limits${others}${once}.`;
  }
  const first = averagesOutside[0];
  if (first === undefined) return null;
  return `its moving average has left its limits since ${dateOf(points[first]?.at ?? 0)}: a slow drift.`;
}

function changeWords(
  { kind, points, limits }: Judged,
  { kind: what, index, at, size }: ProcessChange,
): string {
  if (what === 'spread') {
    const times = size > 1 ? size : 1 / size;
    return `since ${dateOf(at)} it scatters ${formatSignificant(times, 2)} times as ${size > 1 ? 'much' : 'little'} as before (spread).`;
  }
  const amount = amountWords(kind, Math.abs(size), limits?.centre ?? 1);
  if (what === 'step') {
    const before = dateOf(points[index - 1]?.at ?? at);
    return `since ${dateOf(at)} it lies ${amount} ${size > 0 ? 'higher' : 'lower'} than up to ${before} (step).`;
  }
  const last = points.at(-1)?.at ?? at;
  return `from ${dateOf(at)} to ${dateOf(last)} it ${size > 0 ? 'rises' : 'falls'} by ${amount} (drift).`;
}

/** A change in the unit of display, or as a part of the centre for ratios. */
function amountWords(kind: FollowedKind, size: number, centre: number): string {
  const { unit, factor } = followedKind(kind);
  if (unit === '') return `${formatSignificant((100 * size) / Math.abs(centre), 2)} %`;
  return `${formatSignificant(size / factor, 2)} ${unit === '°C' ? 'K' : unit}`;
}

function steadyWords({ points, provisional, limitsFrom, doubt }: Judged): string {
  const known =
    provisional && doubt !== null
      ? `; its limits are provisional, from ${limitsFrom} values, and known to ${Math.round(100 * doubt)} %`
      : '';
  return `steady over ${counted(points.length)}${known}.`;
}

function told({ bench, kind, subject }: RigSeries, finding: string) {
  const place = bench === null ? '' : `${bench}, `;
  const thing = subject === null ? followedKind(kind).name : `${followedKind(kind).name} (${subject})`;
  return { finding: capital(finding), sentence: capital(`${place}${thing}: ${finding}`) };
}

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

function counted(values: number): string {
  return values === 1 ? 'one value' : `${values} values`;
}

/** A day, UTC. */
function dateOf(seconds: number): string {
  return new Date(seconds * 1000).toISOString().slice(0, 10);
}
