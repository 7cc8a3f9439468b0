import { studentQuantile } from '../statistics/index.ts';
import { type ControlPoint, individualsChart, rangeFreedom } from './control.ts';

/** How a process changed. `step`: from one value to another; `drift`: steadily; `spread`: it scatters more, or less. */
type ChangeKind = 'step' | 'drift' | 'spread';

/** A change that chance would hardly make. */
export interface ProcessChange {
  readonly kind: ChangeKind;
  /** First point after the change, from 0; the first of all for a drift. */
  readonly index: number;
  /** Of that point. */
  readonly at: number;
  /** Value after less value before; rise from the first point to the last; ratio of the deviations. */
  readonly size: number;
  /** Statistic over the limit that chance passes in one chart out of a hundred, above 1. */
  readonly strength: number;
}

/** Fewer points than this show no change. */
const fewest = 6;
const level = 0.01;

/**
 * The change that explains a chart best, dated and named; null where chance does. Means before and after every point are
 * compared, the slope against time, and the moving ranges before and after; each limit is that of Student's t for as many
 * comparisons as are made (Bonferroni), so that a chart in control shows a change in at most 3 of 100 cases.
 *
 * @param points in order of time
 */
export function processChange(points: readonly ControlPoint[]): ProcessChange | null {
  if (points.length < fewest) return null;
  const { deviation } = individualsChart(points);
  if (!(deviation > 0)) return null;
  const step = realOnly(stepIn(points, deviation));
  const drift = realOnly(driftIn(points, deviation));
  // A drift looks like a step too, and a step like a drift: the one that explains more of the squares is meant.
  if (step !== null && drift !== null) return step.statistic >= drift.statistic ? step.change : drift.change;
  return (step ?? drift ?? realOnly(spreadIn(points)))?.change ?? null;
}

/** A change with its statistic, in standard deviations of chance. */
interface Candidate {
  readonly change: ProcessChange;
  readonly statistic: number;
}

function realOnly(candidate: Candidate | null): Candidate | null {
  return candidate !== null && candidate.change.strength > 1 ? candidate : null;
}

function limitFor(comparisons: number, freedom: number): number {
  return studentQuantile(1 - level / (2 * comparisons), Math.max(1, rangeFreedom(freedom + 1)));
}

function stepIn(points: readonly ControlPoint[], deviation: number): Candidate | null {
  const n = points.length;
  const limit = limitFor(n - 3, n - 1);
  let best: Candidate | null = null;
  for (let k = 2; k <= n - 2; k++) {
    const size = meanOf(points.slice(k)) - meanOf(points.slice(0, k));
    const statistic = Math.abs(size) / (deviation * Math.sqrt(1 / k + 1 / (n - k)));
    if (best === null || statistic > best.statistic) {
      const at = points[k]?.at ?? 0;
      best = { change: { kind: 'step', index: k, at, size, strength: statistic / limit }, statistic };
    }
  }
  return best;
}

function driftIn(points: readonly ControlPoint[], deviation: number): Candidate | null {
  const n = points.length;
  const middle = points.reduce((sum, { at }) => sum + at, 0) / n;
  const squares = points.reduce((sum, { at }) => sum + (at - middle) ** 2, 0);
  if (!(squares > 0)) return null;
  const slope = points.reduce((sum, { at, value }) => sum + (at - middle) * value, 0) / squares;
  const first = points[0]?.at ?? 0;
  const size = slope * ((points[n - 1]?.at ?? 0) - first);
  const statistic = (Math.abs(slope) * Math.sqrt(squares)) / deviation;
  return {
    change: { kind: 'drift', index: 0, at: first, size, strength: statistic / limitFor(1, n - 1) },
    statistic,
  };
}

/** Logarithms of moving ranges that do not overlap have one deviation, whatever the scale. */
function spreadIn(points: readonly ControlPoint[]): Candidate | null {
  const logs: number[] = [];
  for (let i = 1; i < points.length; i += 2) {
    const range = Math.abs((points[i]?.value ?? 0) - (points[i - 1]?.value ?? 0));
    if (range > 0) logs.push(Math.log(range));
  }
  const n = logs.length;
  if (n < fewest) return null;
  const limit = studentQuantile(1 - level / (2 * (n - 5)), n - 2);
  let best: Candidate | null = null;
  for (let k = 3; k <= n - 3; k++) {
    const before = logs.slice(0, k);
    const after = logs.slice(k);
    const difference = average(after) - average(before);
    const within = Math.sqrt((scatter(before) + scatter(after)) / (n - 2));
    if (!(within > 0)) continue;
    const statistic = Math.abs(difference) / (within * Math.sqrt(1 / k + 1 / (n - k)));
    if (best === null || statistic > best.statistic) {
      const index = 2 * k;
      const at = points[index]?.at ?? 0;
      const size = Math.exp(difference);
      best = { change: { kind: 'spread', index, at, size, strength: statistic / limit }, statistic };
    }
  }
  return best;
}

function meanOf(points: readonly ControlPoint[]): number {
  return points.reduce((sum, { value }) => sum + value, 0) / points.length;
}

function average(values: readonly number[]): number {
  return values.reduce((sum, x) => sum + x, 0) / values.length;
}

function scatter(values: readonly number[]): number {
  const mean = average(values);
  return values.reduce((sum, x) => sum + (x - mean) ** 2, 0);
}
