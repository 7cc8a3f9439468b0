/**
 * Cholesky factor of a small symmetric matrix, row by row in a flat array; only the lower triangle is read and
 * written (Golub & Van Loan, Matrix Computations, algorithm 4.2.1).
 *
 * @param matrix size * size entries, overwritten by the factor
 * @param size rows of the matrix, at least 1
 * @returns false where the matrix is not positive definite to rounding; it is then left half done
 */
export function choleskyFactor(matrix: Float64Array, size: number): boolean {
  for (let j = 0; j < size; j++) {
    const diagonal = matrix[j * size + j] ?? Number.NaN;
    let pivot = diagonal;
    for (let k = 0; k < j; k++) pivot -= (matrix[j * size + k] ?? Number.NaN) ** 2;
    if (!(pivot > diagonal * 1e-14)) return false;
    const root = Math.sqrt(pivot);
    matrix[j * size + j] = root;
    for (let i = j + 1; i < size; i++) {
      let sum = matrix[i * size + j] ?? Number.NaN;
      for (let k = 0; k < j; k++) {
        sum -= (matrix[i * size + k] ?? Number.NaN) * (matrix[j * size + k] ?? Number.NaN);
      }
      matrix[i * size + j] = sum / root;
    }
  }
  return true;
}

/**
 * Solves L x = b for the factor L (Golub & Van Loan, Matrix Computations, algorithm 3.1.1).
 *
 * @param size rows of the matrix, at least 1
 * @param b as many numbers; is overwritten by x
 */
export function choleskyForward(factor: Float64Array, size: number, b: Float64Array): void {
  for (let i = 0; i < size; i++) {
    let sum = b[i] ?? Number.NaN;
    for (let k = 0; k < i; k++) sum -= (factor[i * size + k] ?? Number.NaN) * (b[k] ?? Number.NaN);
    b[i] = sum / (factor[i * size + i] ?? Number.NaN);
  }
}

/**
 * Solves L L' x = b for the factor L: the equations of the matrix itself.
 *
 * @param size rows of the matrix, at least 1
 * @param b as many numbers; is overwritten by x
 */
export function choleskySolve(factor: Float64Array, size: number, b: Float64Array): void {
  choleskyForward(factor, size, b);
  for (let i = size - 1; i >= 0; i--) {
    let sum = b[i] ?? Number.NaN;
    for (let k = i + 1; k < size; k++) sum -= (factor[k * size + i] ?? Number.NaN) * (b[k] ?? Number.NaN);
    b[i] = sum / (factor[i * size + i] ?? Number.NaN);
  }
}
