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

/** A series whose numbers stand in one row, with sums over what is before each place, so that any stretch of it is known. */
interface Row {
  readonly values: Float64Array;
  readonly from: number;
  readonly to: number;
  readonly sums: Float64Array;
  readonly squares: Float64Array;
}

/** What is compared of a trace. */
interface Shape {
  readonly residuals: TraceSketch['residuals'];
  readonly cells: Series;
  /** Null where there are gaps between its cells. */
  readonly row: Row | null;
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
  const cells = unit(residuals);
  return { residuals, cells, row: rowOf(cells) };
}

/** The steps from cell to cell; few pairs come so far that they are asked for. */
function stepsOf({ residuals }: Shape): Series {
  return unit(residuals.slice(1).map((next, i) => next - (residuals[i] ?? Number.NaN)));
}

function unit(values: readonly number[]): Series {
  let [count, sum] = [0, 0];
  for (const x of values) {
    if (!Number.isFinite(x)) continue;
    count += 1;
    sum += x;
  }
  const mean = sum / count;
  let squares = 0;
  for (const x of values) if (Number.isFinite(x)) squares += (x - mean) ** 2;
  const length = Math.sqrt(squares);
  const scaled = new Float64Array(values.length);
  const there = new Float64Array(values.length);
  for (const [i, x] of values.entries()) {
    if (!Number.isFinite((x - mean) / length)) continue;
    scaled[i] = (x - mean) / length;
    there[i] = 1;
  }
  return { values: scaled, there, count: there.reduce((found, x) => found + x, 0) };
}

function rowOf({ values, there, count }: Series): Row | null {
  const from = there.indexOf(1);
  const to = there.lastIndexOf(1) + 1;
  if (count === 0 || to - from !== count) return null;
  const sums = new Float64Array(values.length + 1);
  const squares = new Float64Array(values.length + 1);
  for (const [i, x] of values.entries()) {
    sums[i + 1] = (sums[i] ?? 0) + x;
    squares[i + 1] = (squares[i] ?? 0) + x * x;
  }
  return { values, from, to, sums, squares };
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
  if (a.row !== null && b.row !== null && !mayBeAlike(a.row, b.row, limitOf)) return null;
  const sameCells = a.cells.there.length === b.cells.there.length && a.cells.there.every(isAt(b.cells.there));
  const correlation = sameCells ? product : correlationOf;
  const cells = correlation(a.cells, b.cells);
  if (cells === null || cells.of <= limitOf(cells.count)) return null;
  const steps = correlation(stepsOf(a), stepsOf(b));
  return steps !== null && steps.of > limitOf(steps.count) ? Math.min(1, cells.of) : null;
}

const isAt = (values: Float64Array) => (x: number, i: number) => values[i] === x;

/** What rounding may move a correlation by, and far more. */
const rounding = 1e-9;

/**
 * Whether the correlation of two rows may be above the limit. Half a million pairs of a class are looked at, and after
 * half of their cells most cannot reach it any more: what is left is at most the product of its lengths (Cauchy's
 * inequality).
 */
function mayBeAlike(a: Row, b: Row, limitOf: (count: number) => number): boolean {
  const from = Math.max(a.from, b.from);
  const to = Math.min(a.to, b.to);
  const count = to - from;
  if (count < fewestCells) return false;
  const sumA = (a.sums[to] ?? 0) - (a.sums[from] ?? 0);
  const sumB = (b.sums[to] ?? 0) - (b.sums[from] ?? 0);
  const spreadA = (a.squares[to] ?? 0) - (a.squares[from] ?? 0) - sumA ** 2 / count;
  const spreadB = (b.squares[to] ?? 0) - (b.squares[from] ?? 0) - sumB ** 2 / count;
  if (!(spreadA > 0 && spreadB > 0)) return true;
  const least = (limitOf(count) - rounding) * Math.sqrt(spreadA * spreadB) + (sumA * sumB) / count;
  const half = (from + to) >> 1;
  let products = 0;
  for (let i = from; i < half; i++) products += (a.values[i] ?? 0) * (b.values[i] ?? 0);
  const restA = (a.squares[to] ?? 0) - (a.squares[half] ?? 0);
  const restB = (b.squares[to] ?? 0) - (b.squares[half] ?? 0);
  if (products + Math.sqrt(Math.max(0, restA * restB)) < least) return false;
  for (let i = half; i < to; i++) products += (a.values[i] ?? 0) * (b.values[i] ?? 0);
  return products >= least;
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

/** The correlation over what both have. */
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
