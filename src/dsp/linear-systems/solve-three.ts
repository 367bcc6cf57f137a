/**
 * Solves three linear equations by elimination with row exchange; `matrix` is row-major, left as it was.
 * A column without a pivot (an unknown that nothing depends on) gets 0.
 */
export function solveThree(matrix: Float64Array, right: Float64Array): Float64Array {
  const rows = [0, 1, 2].map((row) => [...matrix.subarray(row * 3, row * 3 + 3), right[row]!]);
  for (let column = 0; column < 3; column++) {
    let pivot = column;
    for (let row = column + 1; row < 3; row++) {
      if (Math.abs(rows[row]![column]!) > Math.abs(rows[pivot]![column]!)) pivot = row;
    }
    [rows[column], rows[pivot]] = [rows[pivot]!, rows[column]!];
    const head = rows[column]!;
    if (head[column] === 0) continue;
    for (let row = 0; row < 3; row++) {
      if (row === column) continue;
      const share = rows[row]![column]! / head[column]!;
      for (let at = column; at < 4; at++) rows[row]![at]! -= share * head[at]!;
    }
  }
  return Float64Array.from(rows, (row, at) => (row[at] === 0 ? 0 : row[3]! / row[at]!));
}
