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

/**
 * Sums of products among the numbers of a network, one after the other: a row may read what an earlier one wrote. Each sum is added up
 * beside the memory and written once, which is quicker than adding to it term by term.
 */
export class LinearRows {
  private readonly numbers: Float64Array;
  /** Of each row: where it is written, and the end of its terms. */
  private readonly rows: Int32Array;
  private readonly scales: Float64Array;
  private readonly places: Int32Array;
  private readonly coefficients: Float64Array;

  constructor(rows: readonly LinearRow[], numbers: Float64Array) {
    const terms = rows.reduce((sum, row) => sum + row.terms.length, 0);
    this.numbers = numbers;
    this.rows = new Int32Array(rowSize * rows.length);
    this.scales = Float64Array.from(rows, ({ scale }) => scale);
    this.places = new Int32Array(terms);
    this.coefficients = new Float64Array(terms);
    let term = 0;
    for (const [index, row] of rows.entries()) {
      for (const { place, coefficient } of row.terms) {
        this.places[term] = place;
        this.coefficients[term] = coefficient;
        term++;
      }
      this.rows[rowSize * index] = row.target;
      this.rows[rowSize * index + 1] = term;
    }
  }

  /** Works the rows from `first` to the one before `end`. */
  work(first: number, end: number): void {
    const { numbers, rows, scales, places, coefficients } = this;
    let term = first === 0 ? 0 : rows[rowSize * first - 1]!;
    for (let row = first; row < end; row++) {
      const last = rows[rowSize * row + 1]!;
      let sum = 0;
      for (; term < last; term++) sum += coefficients[term]! * numbers[places[term]!]!;
      numbers[rows[rowSize * row]!] = sum * scales[row]!;
    }
  }
}

const rowSize = 2;
