/** A product in the sum of a row: a pure number or a conductance (siemens), or a resistance (ohms), times the number at a place. */
export interface RowTerm {
  readonly place: number;
  readonly coefficient: number;
}

/** What is written to a place: the sum of the terms, in their order, times the scale. */
export interface LinearRow {
  readonly target: number;
  readonly terms: readonly RowTerm[];
  readonly scale: number;
}

/** The target of a term that is not the last of its row. */
const goesOn = -1;

/**
 * Sums of products among the numbers of a network, one after the other: a row may read what an earlier one wrote. Each sum is added up
 * beside the memory and written once, which is quicker than adding to it term by term. One loop goes through the terms of all rows, for a
 * loop in a loop would begin anew with every row, of which most have two or three.
 */
export class LinearRows {
  private readonly numbers: Float64Array;
  /** Of each row, and after the last: where its terms begin. */
  private readonly starts: Int32Array;
  /** Of each term its place, and where the sum is written with which it ends. */
  private readonly places: Int32Array;
  /** Of each term its coefficient, and the scale of the sum. */
  private readonly coefficients: Float64Array;

  constructor(rows: readonly LinearRow[], numbers: Float64Array) {
    const count = rows.reduce((sum, row) => sum + Math.max(1, row.terms.length), 0);
    this.numbers = numbers;
    this.starts = new Int32Array(rows.length + 1);
    this.places = new Int32Array(2 * count);
    this.coefficients = new Float64Array(2 * count);
    let term = 0;
    for (const [index, row] of rows.entries()) {
      // A row without terms is zero.
      const terms = row.terms.length === 0 ? [{ place: row.target, coefficient: 0 }] : row.terms;
      for (const { place, coefficient } of terms) {
        this.places[2 * term] = place;
        this.places[2 * term + 1] = goesOn;
        this.coefficients[2 * term] = coefficient;
        term++;
      }
      this.places[2 * term - 1] = row.target;
      this.coefficients[2 * term - 1] = row.scale;
      this.starts[index + 1] = term;
    }
  }

  /** Works the rows from `first` to the one before `end`. */
  work(first: number, end: number): void {
    const { numbers, places, coefficients } = this;
    const last = 2 * this.starts[end]!;
    let sum = 0;
    for (let term = 2 * this.starts[first]!; term < last; term += 2) {
      sum += coefficients[term]! * numbers[places[term]!]!;
      const target = places[term + 1]!;
      if (target === goesOn) continue;
      numbers[target] = sum * coefficients[term + 1]!;
      sum = 0;
    }
  }
}
