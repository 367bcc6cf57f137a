/**
 * Lower Cholesky factor, in place, of a symmetric positive definite matrix of `size` rows, row after row (only its lower
 * triangle is read and written).
 *
 * The factor of the leading block of any size is the leading block of the factor.
 *
 * @throws RangeError where the matrix is not positive definite
 */
export function factorInPlace(matrix: Float64Array, size: number): void {
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column <= row; column += 1) {
      let sum = matrix[row * size + column]!;
      for (let k = 0; k < column; k += 1) sum -= matrix[row * size + k]! * matrix[column * size + k]!;
      if (row > column) matrix[row * size + column] = sum / matrix[column * size + column]!;
      else if (sum > 0) matrix[row * size + row] = Math.sqrt(sum);
      else throw new RangeError('The matrix is not positive definite.');
    }
  }
}

/** Solves `L x = b` over the first `count` rows of a factor; `b` is read from `from` on. */
export function solveLower(
  factor: Float64Array,
  size: number,
  b: ArrayLike<number>,
  from: number,
  count: number,
  x: Float64Array,
): void {
  for (let row = 0; row < count; row += 1) {
    let sum = b[from + row]!;
    for (let k = 0; k < row; k += 1) sum -= factor[row * size + k]! * x[k]!;
    x[row] = sum / factor[row * size + row]!;
  }
}
