import { Matrix, QrDecomposition } from 'ml-matrix';
import { sumOf, valueAt } from './summary.ts';

/** What every least squares fit says. */
export interface LeastSquaresFit {
  readonly parameters: readonly number[];
  /** Standard uncertainties of the parameters, the readings taken as independent with one variance. */
  readonly standardErrors: readonly number[];
  /** Covariances of the parameters. */
  readonly covariance: readonly (readonly number[])[];
  readonly degreesOfFreedom: number;
  readonly residualSumOfSquares: number;
  /** NaN where no degree of freedom is left. */
  readonly residualSd: number;
}

/**
 * Linear least squares for any design matrix, by QR on columns scaled to length one.
 *
 * @param columns the design matrix by columns, one a parameter, each as long as y
 * @param y readings
 * @returns null where the columns are not independent or there are fewer readings than columns
 */
export function fitLinear(
  columns: readonly ArrayLike<number>[],
  y: ArrayLike<number>,
): LeastSquaresFit | null {
  const n = y.length;
  const factor = unscaledCovariance(columns, n);
  if (factor === null) return null;
  const { solve, inverse } = factor;
  const parameters = solve(y);
  const ssr = sumOf(n, (i) => {
    const fitted = sumOf(columns.length, (j) => valueAt(columns[j] ?? [], i) * valueAt(parameters, j));
    return (valueAt(y, i) - fitted) ** 2;
  });
  return { parameters, ...uncertaintyOf(inverse, ssr, n) };
}

/** Standard errors and covariance from (J'J)⁻¹ and the residual sum of squares. */
export function uncertaintyOf(
  inverse: readonly (readonly number[])[],
  residualSumOfSquares: number,
  readings: number,
): Omit<LeastSquaresFit, 'parameters'> {
  const degreesOfFreedom = readings - inverse.length;
  const variance = degreesOfFreedom > 0 ? residualSumOfSquares / degreesOfFreedom : Number.NaN;
  const covariance = inverse.map((row) => row.map((element) => element * variance));
  return {
    standardErrors: covariance.map((row, j) => Math.sqrt(valueAt(row, j))),
    covariance,
    degreesOfFreedom,
    residualSumOfSquares,
    residualSd: Math.sqrt(variance),
  };
}

/** A column of length one that sticks out less than this from the span of those before it is no column of its own. */
const dependent = 1e-14;

/** A design or Jacobian matrix, taken apart. */
interface Factorised {
  /** The parameters that come closest to readings. @param y as many as the matrix has rows */
  readonly solve: (y: ArrayLike<number>) => number[];
  /** (J'J)⁻¹ */
  readonly inverse: readonly (readonly number[])[];
}

/**
 * QR of a design or Jacobian matrix with columns scaled to length one, and (J'J)⁻¹ from it.
 *
 * @param threshold how far each column must stick out from the others, of its length
 * @returns null where the columns are not independent
 */
export function unscaledCovariance(
  columns: readonly ArrayLike<number>[],
  rows: number,
  threshold = dependent,
): Factorised | null {
  const p = columns.length;
  if (rows < p || p === 0) return null;
  const scale = columns.map((column) => Math.sqrt(sumOf(rows, (i) => valueAt(column, i) ** 2)));
  if (scale.some((length) => !(length > 0 && Number.isFinite(length)))) return null;
  const design = Matrix.zeros(rows, p);
  for (let j = 0; j < p; j++) {
    const column = columns[j] ?? [];
    for (let i = 0; i < rows; i++) design.set(i, j, valueAt(column, i) / valueAt(scale, j));
  }
  const qr = new QrDecomposition(design);
  const r = qr.upperTriangularMatrix;
  for (let j = 0; j < p; j++) if (!(Math.abs(r.get(j, j)) > threshold)) return null;
  // R⁻¹ by back substitution, column by column.
  const rInverse = Matrix.zeros(p, p);
  for (let k = 0; k < p; k++) {
    rInverse.set(k, k, 1 / r.get(k, k));
    for (let i = k - 1; i >= 0; i--) {
      let sum = 0;
      for (let j = i + 1; j <= k; j++) sum += r.get(i, j) * rInverse.get(j, k);
      rInverse.set(i, k, -sum / r.get(i, i));
    }
  }
  const product = rInverse.mmul(rInverse.transpose());
  const inverse = scale.map((a, i) => scale.map((b, j) => product.get(i, j) / (a * b)));
  const solve = (y: ArrayLike<number>) => {
    const solution = qr.solve(Matrix.columnVector(Array.from(y)));
    return scale.map((length, j) => solution.get(j, 0) / length);
  };
  return { solve, inverse };
}
