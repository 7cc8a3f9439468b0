import { normalQuantile } from '../statistics/index.ts';
import { type ClassRecording, groupName, type TraceSketch } from './recording.ts';

/** Two files that hold one trace. */
export interface SameTrace {
  /** The first handed in first, as far as their order tells. */
  readonly paths: readonly [string, string];
  /** The term of the first; null for this one. */
  readonly term: string | null;
  readonly groups: readonly string[];
  /** `bytes`: one file twice; `shape`: the noise of one is that of the other. */
  readonly by: 'bytes' | 'shape';
  /** Correlation of what the fits leave over; 1 for one file twice. */
  readonly correlation: number;
  /** Whether the two are of different groups. */
  readonly acrossGroups: boolean;
  /** Whether the roster says that one group uses the other's data. */
  readonly borrowed: boolean;
  readonly sentence: string;
}

/** Fewer cells in common tell nothing. */
const fewestCells = 24;
/** Noise that lasts over cells makes fewer of them independent (common practice, no source). */
const independentPart = 0.4;
/** No two runs share so much of their noise; what is below may be one jet that both stood in. */
const leastCorrelation = 0.75;
/** Probability that some pair of a whole class is taken for one trace by chance. */
const level = 0.001;

/** Numbers about their mean, of length 1 over those that are there. */
interface Series {
  /** 0 where nothing is there. */
  readonly values: Float64Array;
  /** 1 where something is there, else 0. */
  readonly there: Float64Array;
  readonly count: number;
}

/** What is compared of a trace: its cells and their steps from cell to cell. */
interface Shape {
  readonly cells: Series;
  readonly steps: Series;
  /** Which cells are there: two traces of which the same are need no mean of their own. */
  readonly pattern: string;
}

/**
 * Files that hold one trace: the same bytes, or another file with the same noise in it, as when a trace was handed on,
 * cut, converted or saved anew. Two trials of their own have residuals that go their own ways, however alike their time
 * constants are; what a body's own cooling makes alike is smooth, so the steps from cell to cell have to agree as well.
 * The limit is Fisher's for as many pairs as there are (Fisher, Metron 1 (1921) 3).
 *
 * @param recordings of a class
 * @param earlier of other terms; pairs among themselves are not looked at
 */
export function sameTraces(
  recordings: readonly ClassRecording[],
  earlier: readonly ClassRecording[] = [],
): SameTrace[] {
  const found: SameTrace[] = [];
  const all = [...earlier, ...recordings];
  const pairs = Math.max(1, recordings.length * (earlier.length + (recordings.length - 1) / 2));
  const shapes = all.map(({ sketch }) => (sketch === null ? null : shapeOf(sketch)));
  const limitOf = limits(pairs);
  const byBytes = new Map<string, number>();
  all.forEach((one, i) => {
    const before = one.sha256 === null ? undefined : byBytes.get(one.sha256);
    if (one.sha256 !== null && before === undefined) byBytes.set(one.sha256, i);
    const original = before === undefined ? undefined : all[before];
    if (i < earlier.length) return;
    if (original !== undefined) {
      found.push(told(original, one, 'bytes', 1));
      return;
    }
    const shape = shapes[i] ?? null;
    if (shape === null) return;
    for (let k = 0; k < i; k++) {
      const beside = shapes[k];
      const other = all[k];
      if (beside === undefined || beside === null || other === undefined) continue;
      const correlation = likeness(shape, beside, limitOf);
      if (correlation !== null) found.push(told(other, one, 'shape', correlation));
    }
  });
  return found;
}

function told(
  first: ClassRecording,
  second: ClassRecording,
  by: SameTrace['by'],
  correlation: number,
): SameTrace {
  const [a, b] = [groupName(first), groupName(second)];
  const acrossGroups = a !== b || first.term !== second.term;
  const borrowed = second.borrows.includes(a) || first.borrows.includes(b);
  const what = by === 'bytes' ? 'the same file, byte for byte' : 'one trace in two files';
  const where = first.term === null ? '' : ` (${first.term})`;
  const lent = borrowed ? ' The roster says that its data were lent.' : '';
  return {
    paths: [first.path, second.path],
    term: first.term,
    groups: a === b ? [a] : [a, b],
    by,
    correlation,
    acrossGroups,
    borrowed,
    sentence: `${second.path} and ${first.path}${where} are ${what}${by === 'shape' ? `: their noise goes together by ${correlation.toFixed(2)}` : ''}.${lent}`,
  };
}

function shapeOf({ residuals }: TraceSketch): Shape | null {
  if (residuals.length < fewestCells) return null;
  const steps = residuals.slice(1).map((next, i) => next - (residuals[i] ?? Number.NaN));
  const cells = unit(residuals);
  return { cells, steps: unit(steps), pattern: cells.there.join('') };
}

function unit(values: readonly number[]): Series {
  const found = values.filter(Number.isFinite);
  const mean = found.reduce((sum, x) => sum + x, 0) / found.length;
  const length = Math.sqrt(found.reduce((sum, x) => sum + (x - mean) ** 2, 0));
  const scaled = values.map((x) => (x - mean) / length);
  const there = Float64Array.from(scaled, (x) => (Number.isFinite(x) ? 1 : 0));
  return {
    values: Float64Array.from(scaled, (x) => (Number.isFinite(x) ? x : 0)),
    there,
    count: there.reduce((sum, x) => sum + x, 0),
  };
}

/** Correlations that chance does not reach, by the number of cells in common. */
function limits(pairs: number): (count: number) => number {
  const quantile = normalQuantile(1 - level / pairs);
  const known = new Map<number, number>();
  return (count) => {
    const before = known.get(count);
    if (before !== undefined) return before;
    const limit = Math.tanh(quantile / Math.sqrt(Math.max(1, independentPart * count - 3)));
    known.set(count, Math.max(limit, leastCorrelation));
    return Math.max(limit, leastCorrelation);
  };
}

/** The correlation of two traces; null where chance, or what bodies have in common, explains it. */
function likeness(a: Shape, b: Shape, limitOf: (count: number) => number): number | null {
  const correlation = a.pattern === b.pattern ? product : correlationOf;
  const cells = correlation(a.cells, b.cells);
  if (cells === null || cells.of <= limitOf(cells.count)) return null;
  const steps = correlation(a.steps, b.steps);
  return steps !== null && steps.of > limitOf(steps.count) ? Math.min(1, cells.of) : null;
}

interface Correlation {
  readonly of: number;
  readonly count: number;
}

/** The correlation where the same numbers are there: both are of length 1 about their mean. */
function product(a: Series, b: Series): Correlation | null {
  if (a.count < fewestCells) return null;
  let sum = 0;
  for (let i = 0; i < a.values.length; i++) sum += (a.values[i] ?? 0) * (b.values[i] ?? 0);
  return { of: sum, count: a.count };
}

/** The correlation over what both have. Half a million pairs of a class are looked at: nothing here branches. */
function correlationOf(a: Series, b: Series): Correlation | null {
  const n = Math.min(a.values.length, b.values.length);
  let [count, sumA, sumB, squaresA, squaresB, products] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    const x = a.values[i] ?? 0;
    const y = b.values[i] ?? 0;
    const hasA = a.there[i] ?? 0;
    const hasB = b.there[i] ?? 0;
    count += hasA * hasB;
    sumA += x * hasB;
    sumB += y * hasA;
    squaresA += x * x * hasB;
    squaresB += y * y * hasA;
    products += x * y;
  }
  if (count < fewestCells) return null;
  const scale = Math.sqrt((squaresA - sumA ** 2 / count) * (squaresB - sumB ** 2 / count));
  return scale > 0 ? { of: (products - (sumA * sumB) / count) / scale, count } : null;
}

/** Cells of a sketch, and how far it reaches in time constants. */
const cells = 64;
const sketchReach = 2.3;

/**
 * The sketch of a cooling.
 *
 * @param points time from the heat going off over the time constant, and measured less fitted in any unit
 */
export function traceSketch(
  points: readonly { readonly x: number; readonly residual: number }[],
): TraceSketch {
  const sums = new Float64Array(cells);
  const counts = new Float64Array(cells);
  for (const { x, residual } of points) {
    const cell = Math.floor((x / sketchReach) * cells);
    if (!(cell >= 0 && cell < cells && Number.isFinite(residual))) continue;
    sums[cell] = (sums[cell] ?? 0) + residual;
    counts[cell] = (counts[cell] ?? 0) + 1;
  }
  return {
    residuals: Array.from(sums, (sum, i) => {
      const count = counts[i] ?? 0;
      return count > 0 ? sum / count : Number.NaN;
    }),
  };
}
