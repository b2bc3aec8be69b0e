import type { CurrentLaw } from './element.ts';

/**
 * Newton's iteration ends with a correction below this share of the voltage or of the law's reference voltage: what it
 * leaves is of the order of its square, and so near the laws are their tangents.
 */
const settledShare = 1e-6;
/** Where the voltages changed by less than this share, the next change is likely to be like the last. */
const steadyShare = 0.05;
const iterationLimit = 500;
/** How often a correction is halved before it is taken as it is. */
const halvingLimit = 30;

/** What is kept of each port, that of all ports one after the other: so many numbers before the two matrices. */
const [
  atVoltage,
  atVoltageBefore,
  atChangeBefore,
  atOpen,
  atCorrection,
  atConductance,
  atResidual,
  atTrial,
  atSlope,
] = [0, 1, 2, 3, 4, 5, 6, 7, 8];
const numbersOfPort = 9;

/**
 * The non-linear branches of a block against the linear rest of it, seen from their terminals:
 * v = v0 - Z (i(v) - G v), with the open voltages v0, the impedances Z of the linear network (in which each branch
 * already counts as its reference conductance G) and the laws i(v). All rise, so that there is one solution.
 */
export class PortSolver {
  /** Voltages of the ports: the start of the search before, the solution after `solve`. */
  readonly voltages: Float64Array;
  /** v0, to be written before `solve`. */
  readonly openVoltages: Float64Array;
  /** i(v) - G v of the solution, in amperes. */
  readonly corrections: Float64Array;
  /** Of the last search: its iterations, and the port with the largest difference of voltages left. */
  iterations = 0;
  worstPort = 0;
  worstResidual = 0;
  private readonly laws: readonly CurrentLaw[];
  /**
   * All numbers, of which the public ones are parts. The last solution, the one before and the change to that one tell together where the
   * next is likely to lie.
   */
  private readonly numbers: Float64Array;

  /** `impedances` row by row, in ohms. */
  constructor(laws: readonly CurrentLaw[], conductances: Float64Array, impedances: Float64Array) {
    const count = laws.length;
    this.laws = laws;
    this.numbers = new Float64Array(numbersOfPort * count + 2 * count * count);
    const partAt = (place: number): Float64Array => this.numbers.subarray(place * count, (place + 1) * count);
    this.voltages = partAt(atVoltage);
    this.openVoltages = partAt(atOpen);
    this.corrections = partAt(atCorrection);
    this.numbers.set(conductances, atConductance * count);
    this.numbers.set(impedances, numbersOfPort * count);
  }

  /** False where no solution was found: then the public fields hold the last attempt. */
  solve(): boolean {
    return this.laws.length === 1 ? this.solveOne() : this.solveAll();
  }

  /** One port: Newton between bounds that close in from both sides. */
  private solveOne(): boolean {
    const { numbers } = this;
    const law = this.laws[0]!;
    const openVoltage = numbers[atOpen]!;
    const conductance = numbers[atConductance]!;
    const impedance = numbers[numbersOfPort]!;
    const { low, high } = boundsOf(openVoltage, 1 - impedance * conductance);
    let lower = low;
    let upper = high;
    const expected = this.expected(0);
    let voltage = Math.min(Math.max(expected, lower), upper);
    let changeBefore = Number.POSITIVE_INFINITY;
    let residual = 0;
    let iterations = 1;
    for (; iterations <= iterationLimit; iterations++) {
      law.evaluate(voltage);
      const evaluated = voltage;
      const correction = law.current - conductance * voltage;
      residual = voltage - openVoltage + impedance * correction;
      if (residual > 0) upper = voltage;
      else lower = voltage;
      let next = voltage - residual / (1 + impedance * (law.slope - conductance));
      // A steep law makes Newton's steps from above short and all alike: halving the bounds is faster then.
      const isSlow = Math.abs(next - voltage) > 0.5 * changeBefore;
      if (isSlow || !(next >= lower && next <= upper)) next = middleOf(lower, upper);
      const change = Math.abs(next - voltage);
      changeBefore = change;
      voltage = next;
      if (change <= settledShare * (Math.abs(voltage) + law.referenceVoltage)) {
        const current = law.current + law.slope * (voltage - evaluated);
        const settled = current - conductance * voltage;
        numbers[atVoltage] = voltage;
        numbers[atCorrection] = settled;
        return Number.isFinite(settled);
      }
    }
    this.iterations = iterations;
    this.worstResidual = residual;
    numbers[atVoltage] = voltage;
    return false;
  }

  /** Several ports: Newton, a correction halved while it does not bring the network and the laws closer. */
  private solveAll(): boolean {
    const { numbers } = this;
    const count = this.laws.length;
    const [residuals, matrix] = [atResidual * count, (numbersOfPort + count) * count];
    for (let port = 0; port < count; port++) numbers[port] = this.expected(port);
    let distance = this.evaluate(atVoltage);
    for (this.iterations = 1; this.iterations <= iterationLimit; this.iterations++) {
      this.fillMatrix();
      if (!solveDense(numbers, matrix, residuals, count)) return false;
      const change = this.largestShare();
      if (change <= settledShare) return this.acceptTangents();
      distance = this.shortenCorrection(distance);
      numbers.copyWithin(atVoltage * count, atTrial * count, (atTrial + 1) * count);
    }
    return false;
  }

  /** Where the last three solutions point to; the last itself where the voltage has jumped. Keeps them for the next time. */
  private expected(port: number): number {
    const { numbers, laws } = this;
    const count = laws.length;
    const last = numbers[port]!;
    const change = last - numbers[atVoltageBefore * count + port]!;
    const changeBefore = numbers[atChangeBefore * count + port]!;
    numbers[atVoltageBefore * count + port] = last;
    numbers[atChangeBefore * count + port] = change;
    const isSteady = Math.abs(change) <= steadyShare * (Math.abs(last) + laws[port]!.referenceVoltage);
    return isSteady ? last + 2 * change - changeBefore : last;
  }

  /** Puts voltages less correction into the trial; returns the largest share of a voltage that the correction changes. */
  private largestShare(): number {
    const { numbers, laws } = this;
    const count = laws.length;
    let change = 0;
    for (let port = 0; port < count; port++) {
      const residual = numbers[atResidual * count + port]!;
      const trial = numbers[port]! - residual;
      numbers[atTrial * count + port] = trial;
      change = Math.max(change, Math.abs(residual) / (Math.abs(trial) + laws[port]!.referenceVoltage));
    }
    return change;
  }

  /** Takes the last correction along the tangents; false where something is not a number. */
  private acceptTangents(): boolean {
    const { numbers } = this;
    const count = this.laws.length;
    let sum = 0;
    for (let port = 0; port < count; port++) {
      const trial = numbers[atTrial * count + port]!;
      const correction =
        numbers[atCorrection * count + port]! + numbers[atSlope * count + port]! * (trial - numbers[port]!);
      numbers[atCorrection * count + port] = correction;
      numbers[port] = trial;
      sum += correction;
    }
    return Number.isFinite(sum);
  }

  /** Residuals, slopes and corrections at the voltages or the trial; returns the distance. */
  private evaluate(at: number): number {
    const { numbers, laws } = this;
    const count = laws.length;
    this.evaluateLaws(at);
    let distance = 0;
    let worst = 0;
    for (let row = 0; row < count; row++) {
      let residual = numbers[at * count + row]! - numbers[atOpen * count + row]!;
      const impedances = (numbersOfPort + row) * count;
      for (let column = 0; column < count; column++) {
        residual += numbers[impedances + column]! * numbers[atCorrection * count + column]!;
      }
      numbers[atResidual * count + row] = residual;
      distance += residual * residual;
      if (Math.abs(residual) > Math.abs(worst)) {
        worst = residual;
        this.worstPort = row;
      }
    }
    this.worstResidual = worst;
    return distance;
  }

  /** Halves the correction in the trial until that lies closer than the voltages; returns the distance of the trial. */
  private shortenCorrection(distance: number): number {
    const { numbers } = this;
    const count = this.laws.length;
    let found = this.evaluate(atTrial);
    for (let halving = 0; halving < halvingLimit && !(found < distance); halving++) {
      for (let port = 0; port < count; port++) {
        numbers[atTrial * count + port] = 0.5 * (numbers[atTrial * count + port]! + numbers[port]!);
      }
      found = this.evaluate(atTrial);
    }
    return found;
  }

  private evaluateLaws(at: number): void {
    const { numbers, laws } = this;
    const count = laws.length;
    for (let port = 0; port < count; port++) {
      const law = laws[port]!;
      const voltage = numbers[at * count + port]!;
      const conductance = numbers[atConductance * count + port]!;
      law.evaluate(voltage);
      numbers[atCorrection * count + port] = law.current - conductance * voltage;
      numbers[atSlope * count + port] = law.slope - conductance;
    }
  }

  private fillMatrix(): void {
    const { numbers } = this;
    const count = this.laws.length;
    const impedances = numbersOfPort * count;
    const matrix = impedances + count * count;
    for (let row = 0; row < count; row++) {
      for (let column = 0; column < count; column++) {
        const diagonal = row === column ? 1 : 0;
        const entry = row * count + column;
        numbers[matrix + entry] =
          diagonal + numbers[impedances + entry]! * numbers[atSlope * count + column]!;
      }
    }
  }
}

/** Where the linear network holds less than this share of a branch's conductance, it sets no usable bound. */
const smallestShare = 1e-6;

/** The solution lies between zero and the voltage that the network would have without the branch. */
function boundsOf(openVoltage: number, share: number): { low: number; high: number } {
  const farthest = share > smallestShare ? openVoltage / share : openVoltage * Number.POSITIVE_INFINITY;
  if (openVoltage >= 0) return { low: 0, high: openVoltage === 0 ? 0 : farthest * (1 + 1e-9) };
  return { low: farthest * (1 + 1e-9), high: 0 };
}

function middleOf(lower: number, upper: number): number {
  if (Number.isFinite(lower) && Number.isFinite(upper)) return 0.5 * (lower + upper);
  return Number.isFinite(lower) ? 2 * lower + 1 : 2 * upper - 1;
}

/**
 * Gaussian elimination with the largest pivot of each column, in place, of a matrix that begins at a place among the numbers and a right side
 * that begins at another; false where the matrix is singular.
 */
function solveDense(numbers: Float64Array, matrix: number, vector: number, size: number): boolean {
  for (let column = 0; column < size; column++) {
    let pivotRow = column;
    for (let row = column + 1; row < size; row++) {
      if (
        Math.abs(numbers[matrix + row * size + column]!) >
        Math.abs(numbers[matrix + pivotRow * size + column]!)
      )
        pivotRow = row;
    }
    const pivot = numbers[matrix + pivotRow * size + column]!;
    if (pivot === 0 || !Number.isFinite(pivot)) return false;
    if (pivotRow !== column) {
      for (let entry = 0; entry < size; entry++)
        swap(numbers, matrix + pivotRow * size + entry, matrix + column * size + entry);
      swap(numbers, vector + pivotRow, vector + column);
    }
    for (let row = column + 1; row < size; row++) {
      const own = matrix + row * size;
      const factor = numbers[own + column]! / pivot;
      if (factor === 0) continue;
      for (let entry = column; entry < size; entry++) {
        numbers[own + entry]! -= factor * numbers[matrix + column * size + entry]!;
      }
      numbers[vector + row]! -= factor * numbers[vector + column]!;
    }
  }
  for (let row = size - 1; row >= 0; row--) {
    const own = matrix + row * size;
    let value = numbers[vector + row]!;
    for (let entry = row + 1; entry < size; entry++)
      value -= numbers[own + entry]! * numbers[vector + entry]!;
    numbers[vector + row] = value / numbers[own + row]!;
  }
  return true;
}

function swap(numbers: Float64Array, one: number, other: number): void {
  const kept = numbers[one]!;
  numbers[one] = numbers[other]!;
  numbers[other] = kept;
}
