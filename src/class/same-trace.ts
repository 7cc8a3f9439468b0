import { normalQuantile } from '../statistics/index.ts';
import type { ClassRecording, TraceSketch } from './recording.ts';

/** Two files that hold one trace. */
export interface SameTrace {
  readonly paths: readonly [string, string];
  /** `bytes`: one file twice; `shape`: the noise of one is that of the other. */
  readonly by: 'bytes' | 'shape';
  /** Correlation of what the fits leave over; 1 for one file twice. */
  readonly correlation: number;
  /** Whether the two are of different groups. */
  readonly acrossGroups: boolean;
}

/** Fewer cells in common tell nothing. */
const fewestCells = 24;
/** Noise that lasts over cells makes fewer of them independent (common practice, no source). */
const independentPart = 0.4;
/** No two runs share so much of their noise; what is below may be one jet that both stood in. */
const leastCorrelation = 0.75;
/** Probability that some pair of a whole class is taken for one trace by chance. */
const level = 0.001;

/**
 * Files that hold one trace: the same bytes, or another file with the same noise in it, as when a trace was handed on,
 * cut, converted or saved anew. Two trials of their own have residuals that go their own ways, however alike their time
 * constants are. The limit is Fisher's for as many pairs as there are (Fisher, Metron 1 (1921) 3).
 *
 * @param recordings of a class, or of several terms
 */
export function sameTraces(recordings: readonly ClassRecording[]): SameTrace[] {
  const found: SameTrace[] = [];
  const pairs = Math.max(1, (recordings.length * (recordings.length - 1)) / 2);
  const sketches = recordings.map(({ sketch }) => (sketch === null ? null : centred(sketch)));
  recordings.forEach((one, i) => {
    for (let k = 0; k < i; k++) {
      const other = recordings[k];
      if (other === undefined) continue;
      const acrossGroups = one.group !== other.group;
      if (one.sha256 !== null && one.sha256 === other.sha256) {
        found.push({ paths: [other.path, one.path], by: 'bytes', correlation: 1, acrossGroups });
        continue;
      }
      const correlation = correlationOf(sketches[i] ?? null, sketches[k] ?? null, pairs);
      if (correlation !== null) {
        found.push({ paths: [other.path, one.path], by: 'shape', correlation, acrossGroups });
      }
    }
  });
  return found;
}

function centred({ residuals }: TraceSketch): Float64Array {
  return Float64Array.from(residuals);
}

/** The correlation of two sketches; null where chance explains it. */
function correlationOf(a: Float64Array | null, b: Float64Array | null, pairs: number): number | null {
  if (a === null || b === null) return null;
  const n = Math.min(a.length, b.length);
  let [count, sumA, sumB, squaresA, squaresB, products] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    const x = a[i] ?? Number.NaN;
    const y = b[i] ?? Number.NaN;
    if (!Number.isFinite(x + y)) continue;
    count += 1;
    sumA += x;
    sumB += y;
    squaresA += x * x;
    squaresB += y * y;
    products += x * y;
  }
  if (count < fewestCells) return null;
  const scale = Math.sqrt((squaresA - sumA ** 2 / count) * (squaresB - sumB ** 2 / count));
  if (!(scale > 0)) return null;
  const correlation = (products - (sumA * sumB) / count) / scale;
  if (correlation < leastCorrelation) return null;
  const limit = Math.tanh(
    normalQuantile(1 - level / pairs) / Math.sqrt(Math.max(1, independentPart * count - 3)),
  );
  return correlation > limit ? correlation : null;
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
