import type { LinearRow, RowTerm } from './linear-rows.ts';

/** A positive definite matrix as its upper or lower half: row, column, value; equal places add up. */
export type SymmetricEntry = readonly [row: number, column: number, value: number];

/** A pivot below this share of its row's diagonal is lost in rounding: the matrix is singular. */
const smallestPivot = 1e-13;

/** A pivot is lost in rounding: the values of the matrix lie too far apart, or are no numbers. */
export class SingularMatrix extends RangeError {}

/** The lists of a factor L D L', in the order of elimination. */
interface FactorLists {
  readonly order: Int32Array;
  /** Where the entries of each row begin, and where the last ends. */
  readonly starts: Int32Array;
  readonly rows: Int32Array;
  readonly values: Float64Array;
  readonly inversePivots: Float64Array;
}

/**
 * Factors L D L' of a sparse symmetric positive definite matrix, eliminated in the order of least fill. Solves in
 * place, without allocation, in time proportional to the entries of L.
 */
export class SymmetricFactor {
  private readonly lists: FactorLists;

  private constructor(lists: FactorLists) {
    this.lists = lists;
  }

  /**
   * `first` is the number of the first row in the vectors that are solved.
   *
   * @throws {SingularMatrix} where the matrix is singular
   */
  static of(size: number, entries: readonly SymmetricEntry[], first = 0): SymmetricFactor {
    return new SymmetricFactor(size === 1 ? factorOfOne(entries, first) : factorOf(size, entries, first));
  }

  get size(): number {
    return this.lists.order.length;
  }

  /** Replaces the right side by the solution. */
  solve(vector: Float64Array): void {
    const { order, starts, rows, values, inversePivots } = this.lists;
    let entry = 0;
    for (let index = 0; index < order.length; index++) {
      const value = vector[order[index]!]!;
      for (const last = starts[index + 1]!; entry < last; entry++) {
        vector[rows[entry]!]! -= values[entry]! * value;
      }
    }
    for (let index = order.length - 1; index >= 0; index--) {
      const row = order[index]!;
      let value = vector[row]! * inversePivots[index]!;
      for (entry = starts[index]!; entry < starts[index + 1]!; entry++) {
        value -= values[entry]! * vector[rows[entry]!]!;
      }
      vector[row] = value;
    }
  }

  /**
   * The same as sums that one after the other give the solution in place, if what is fed into each row is what `fed` names.
   */
  rows(fed: (row: number) => readonly RowTerm[]): LinearRow[] {
    const { order, starts, rows, values, inversePivots } = this.lists;
    const eliminated = new Map<number, RowTerm[]>();
    const forward: LinearRow[] = [];
    const backward: LinearRow[] = [];
    for (const [index, row] of order.entries()) {
      const pivot = inversePivots[index]!;
      const terms = [...fed(row), ...(eliminated.get(row) ?? [])];
      const below: RowTerm[] = [];
      for (let entry = starts[index]!; entry < starts[index + 1]!; entry++) {
        const other = rows[entry]!;
        const coefficient = -values[entry]!;
        below.push({ place: other, coefficient });
        const own = eliminated.get(other) ?? [];
        own.push({ place: row, coefficient });
        eliminated.set(other, own);
      }
      const isLast = below.length === 0;
      forward.push({ target: row, terms, scale: isLast ? pivot : 1 });
      if (!isLast)
        backward.push({ target: row, terms: [{ place: row, coefficient: pivot }, ...below], scale: 1 });
    }
    return [...forward, ...backward.reverse()];
  }
}

/** Most blocks of a long line have but one unknown voltage. */
function factorOfOne(entries: readonly SymmetricEntry[], first: number): FactorLists {
  const pivot = entries.reduce((sum, [, , value]) => sum + value, 0);
  if (!(pivot > smallestPivot * pivot)) throw new SingularMatrix('singular at row 0');
  return {
    order: Int32Array.of(first),
    starts: Int32Array.of(0, 0),
    rows: new Int32Array(0),
    values: new Float64Array(0),
    inversePivots: Float64Array.of(1 / pivot),
  };
}

function factorOf(size: number, entries: readonly SymmetricEntry[], first: number): FactorLists {
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
  return {
    order: Int32Array.from(order),
    starts: Int32Array.from(starts),
    rows: Int32Array.from(rows),
    values: Float64Array.from(values),
    inversePivots: Float64Array.from(inversePivots),
  };
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
