/** A positive definite matrix as its upper or lower half: row, column, value; equal places add up. */
export type SymmetricEntry = readonly [row: number, column: number, value: number];

/** A pivot below this share of its row's diagonal is lost in rounding: the matrix is singular. */
const smallestPivot = 1e-13;

/** A pivot is lost in rounding: the values of the matrix lie too far apart, or are no numbers. */
export class SingularMatrix extends RangeError {}

/**
 * Factors L D L' of a sparse symmetric positive definite matrix, eliminated in the order of least fill. Solves in
 * place, without allocation, in time proportional to the entries of L.
 */
export class SymmetricFactor {
  private readonly order: Int32Array;
  private readonly starts: Int32Array;
  private readonly rows: Int32Array;
  private readonly values: Float64Array;
  private readonly inversePivots: Float64Array;

  /**
   * `first` is the place of the first row in the vectors that are solved.
   *
   * @throws {SingularMatrix} where the matrix is singular
   */
  constructor(size: number, entries: readonly SymmetricEntry[], first = 0) {
    const matrix = rowsOf(size, entries);
    const diagonals = matrix.map((row, index) => row.get(index) ?? 0);
    const order: number[] = [];
    const starts = [0];
    const rows: number[] = [];
    const values: number[] = [];
    const inversePivots: number[] = [];
    const left = new Set(matrix.keys());
    while (left.size > 0) {
      const pivotRow = rowOfLeastFill(matrix, left);
      const row = matrix[pivotRow]!;
      const pivot = row.get(pivotRow) ?? 0;
      if (!(pivot > smallestPivot * diagonals[pivotRow]!))
        throw new SingularMatrix(`singular at row ${pivotRow}`);
      left.delete(pivotRow);
      order.push(first + pivotRow);
      inversePivots.push(1 / pivot);
      const neighbours = [...row].filter(([column]) => column !== pivotRow);
      for (const [column, value] of neighbours) {
        rows.push(first + column);
        values.push(value / pivot);
        eliminate(matrix[column]!, pivotRow, neighbours, value / pivot);
      }
      starts.push(rows.length);
    }
    this.order = Int32Array.from(order);
    this.starts = Int32Array.from(starts);
    this.rows = Int32Array.from(rows);
    this.values = Float64Array.from(values);
    this.inversePivots = Float64Array.from(inversePivots);
  }

  /** Replaces the right side by the solution. */
  solve(vector: Float64Array): void {
    const { order, starts, rows, values, inversePivots } = this;
    const size = order.length;
    for (let index = 0; index < size; index++) {
      const value = vector[order[index]!]!;
      for (let entry = starts[index]!; entry < starts[index + 1]!; entry++) {
        vector[rows[entry]!]! -= values[entry]! * value;
      }
    }
    for (let index = size - 1; index >= 0; index--) {
      const row = order[index]!;
      let value = vector[row]! * inversePivots[index]!;
      for (let entry = starts[index]!; entry < starts[index + 1]!; entry++) {
        value -= values[entry]! * vector[rows[entry]!]!;
      }
      vector[row] = value;
    }
  }
}

function rowsOf(size: number, entries: readonly SymmetricEntry[]): Map<number, number>[] {
  const matrix = Array.from({ length: size }, () => new Map<number, number>());
  const add = (row: number, column: number, value: number): void => {
    matrix[row]!.set(column, (matrix[row]!.get(column) ?? 0) + value);
  };
  for (const [row, column, value] of entries) {
    add(row, column, value);
    if (row !== column) add(column, row, value);
  }
  return matrix;
}

/** The row with the fewest entries; of several the first, so that the order is always the same. */
function rowOfLeastFill(matrix: readonly Map<number, number>[], left: ReadonlySet<number>): number {
  let best = -1;
  let fewest = Number.POSITIVE_INFINITY;
  for (const row of left) {
    const count = matrix[row]!.size;
    if (count < fewest) {
      fewest = count;
      best = row;
    }
    if (count <= 2) break;
  }
  return best;
}

function eliminate(
  row: Map<number, number>,
  pivotRow: number,
  neighbours: readonly (readonly [number, number])[],
  factor: number,
): void {
  row.delete(pivotRow);
  for (const [column, value] of neighbours) row.set(column, (row.get(column) ?? 0) - factor * value);
}
