/**
 * Symmetric positive definite matrices, row by row in one array: factored in place and solved
 * (G. H. Golub and C. F. Van Loan, *Matrix Computations*, 4.2).
 */

/** What is left of a pivot, against the diagonal it came from, below which two columns tell the same. */
const LEAST_PIVOT = 1e-13;

/**
 * Overwrites the lower triangle with the factor; the rest is neither read nor written. The factor of the
 * leading block of any size is the leading block of the factor.
 *
 * @returns false where the matrix is singular to working precision (or holds NaN): its contents are then spoilt
 */
export function factor(matrix: Float64Array, size: number): boolean {
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column <= row; column += 1) {
      let sum = matrix[row * size + column]!;
      for (let k = 0; k < column; k += 1) sum -= matrix[row * size + k]! * matrix[column * size + k]!;
      if (column < row) {
        matrix[row * size + column] = sum / matrix[column * size + column]!;
        continue;
      }
      if (!(sum > LEAST_PIVOT * matrix[row * size + row]!)) return false;
      matrix[row * size + row] = Math.sqrt(sum);
    }
  }
  return true;
}

/**
 * Solves `L x = b` over the first `count` rows of a factor; `b` is read from `from` on. `x` may be `b` where
 * `from` is 0.
 */
export function solveLower(
  factored: Float64Array,
  size: number,
  b: ArrayLike<number>,
  from: number,
  count: number,
  x: Float64Array,
): void {
  for (let row = 0; row < count; row += 1) {
    let sum = b[from + row]!;
    for (let k = 0; k < row; k += 1) sum -= factored[row * size + k]! * x[k]!;
    x[row] = sum / factored[row * size + row]!;
  }
}

/** Solves in place with a matrix that `factor` has factored. */
export function solve(factored: Float64Array, size: number, right: Float64Array): void {
  solveLower(factored, size, right, 0, size, right);
  for (let row = size - 1; row >= 0; row -= 1) {
    let sum = right[row]!;
    for (let k = row + 1; k < size; k += 1) sum -= factored[k * size + row]! * right[k]!;
    right[row] = sum / factored[row * size + row]!;
  }
}

/** Inverse of a matrix that `factor` has factored, row by row. */
export function inverse(factored: Float64Array, size: number): Float64Array {
  const result = new Float64Array(size * size);
  for (let column = 0; column < size; column += 1) {
    const row = result.subarray(column * size, (column + 1) * size);
    row[column] = 1;
    solve(factored, size, row);
  }
  return result;
}
