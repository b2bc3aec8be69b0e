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

/**
 * The non-linear branches of a block against the linear rest of it, seen from their terminals:
 * v = v0 - Z (i(v) - G v), with the open voltages v0, the impedances Z of the linear network (in which each branch
 * already counts as its reference conductance G) and the laws i(v). All rise, so that there is one solution.
 */
export class PortSolver {
  /** Voltages of the ports: the start of the search before, the solution after `solve`. */
  readonly voltages: Float64Array;
  /** i(v) - G v of the solution, in amperes. */
  readonly corrections: Float64Array;
  /** Of the last search: its iterations, and the port with the largest difference of voltages left. */
  iterations = 0;
  worstPort = 0;
  worstResidual = 0;
  /** The solution before the last, and the change from the one before that: together they tell where the next is likely to lie. */
  private readonly voltagesBefore: Float64Array;
  private readonly changesBefore: Float64Array;
  private readonly laws: readonly CurrentLaw[];
  private readonly conductances: Float64Array;
  private readonly impedances: Float64Array;
  private readonly residuals: Float64Array;
  private readonly trial: Float64Array;
  private readonly matrix: Float64Array;
  private readonly slopes: Float64Array;

  /** `impedances` row by row, in ohms. */
  constructor(laws: readonly CurrentLaw[], conductances: Float64Array, impedances: Float64Array) {
    const count = laws.length;
    this.laws = laws;
    this.conductances = conductances;
    this.impedances = impedances;
    this.voltages = new Float64Array(count);
    this.voltagesBefore = new Float64Array(count);
    this.changesBefore = new Float64Array(count);
    this.corrections = new Float64Array(count);
    this.residuals = new Float64Array(count);
    this.trial = new Float64Array(count);
    this.slopes = new Float64Array(count);
    this.matrix = new Float64Array(count * count);
  }

  /** False where no solution was found: then the public fields hold the last attempt. */
  solve(openVoltages: Float64Array): boolean {
    return this.laws.length === 1 ? this.solveOne(openVoltages) : this.solveAll(openVoltages);
  }

  /** One port: Newton between bounds that close in from both sides. */
  private solveOne(openVoltages: Float64Array): boolean {
    const openVoltage = openVoltages[0]!;
    const law = this.laws[0]!;
    const impedance = this.impedances[0]!;
    const conductance = this.conductances[0]!;
    const { low, high } = boundsOf(openVoltage, 1 - impedance * conductance);
    let lower = low;
    let upper = high;
    const expected = this.expected(0);
    let voltage = Math.min(Math.max(expected, lower), upper);
    let changeBefore = Number.POSITIVE_INFINITY;
    let residual = 0;
    for (this.iterations = 1; this.iterations <= iterationLimit; this.iterations++) {
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
        this.voltages[0] = voltage;
        this.corrections[0] = current - conductance * voltage;
        return Number.isFinite(this.corrections[0]);
      }
    }
    this.worstResidual = residual;
    this.voltages[0] = voltage;
    return false;
  }

  /** Several ports: Newton, a correction halved while it does not bring the network and the laws closer. */
  private solveAll(openVoltages: Float64Array): boolean {
    const { voltages, residuals } = this;
    this.startFromExpected();
    let distance = this.evaluate(voltages, openVoltages);
    for (this.iterations = 1; this.iterations <= iterationLimit; this.iterations++) {
      this.fillMatrix();
      if (!solveDense(this.matrix, residuals, voltages.length)) return false;
      const change = this.largestShare();
      if (change <= settledShare) return this.acceptTangents();
      distance = this.shortenCorrection(openVoltages, distance);
      voltages.set(this.trial);
    }
    return false;
  }

  private startFromExpected(): void {
    const { voltages } = this;
    for (let port = 0; port < voltages.length; port++) voltages[port] = this.expected(port);
  }

  /** Where the last three solutions point to; the last itself where the voltage has jumped. Keeps them for the next time. */
  private expected(port: number): number {
    const { voltages, voltagesBefore, changesBefore } = this;
    const last = voltages[port]!;
    const change = last - voltagesBefore[port]!;
    const changeBefore = changesBefore[port]!;
    voltagesBefore[port] = last;
    changesBefore[port] = change;
    const isSteady = Math.abs(change) <= steadyShare * (Math.abs(last) + this.laws[port]!.referenceVoltage);
    return isSteady ? last + 2 * change - changeBefore : last;
  }

  /** Puts voltages less correction into `trial`; returns the largest share of a voltage that the correction changes. */
  private largestShare(): number {
    const { voltages, residuals, trial, laws } = this;
    let change = 0;
    for (let port = 0; port < trial.length; port++) {
      trial[port] = voltages[port]! - residuals[port]!;
      const measure = Math.abs(trial[port]!) + laws[port]!.referenceVoltage;
      change = Math.max(change, Math.abs(residuals[port]!) / measure);
    }
    return change;
  }

  /** Takes the last correction along the tangents; false where something is not a number. */
  private acceptTangents(): boolean {
    const { voltages, trial, corrections, slopes } = this;
    let sum = 0;
    for (let port = 0; port < voltages.length; port++) {
      corrections[port]! += slopes[port]! * (trial[port]! - voltages[port]!);
      voltages[port] = trial[port]!;
      sum += corrections[port]!;
    }
    return Number.isFinite(sum);
  }

  /** Residuals, slopes and corrections at the voltages; returns the distance. */
  private evaluate(at: Float64Array, openVoltages: Float64Array): number {
    this.evaluateLaws(at);
    let distance = 0;
    this.worstResidual = 0;
    for (let row = 0; row < at.length; row++) {
      const residual = this.residualOf(row, at, openVoltages);
      this.residuals[row] = residual;
      distance += residual * residual;
      if (Math.abs(residual) > Math.abs(this.worstResidual)) {
        this.worstResidual = residual;
        this.worstPort = row;
      }
    }
    return distance;
  }

  /** Halves the correction in `trial` until the trial lies closer than the voltages; returns the distance of the trial. */
  private shortenCorrection(openVoltages: Float64Array, distance: number): number {
    const { voltages, trial } = this;
    let found = this.evaluate(trial, openVoltages);
    for (let halving = 0; halving < halvingLimit && !(found < distance); halving++) {
      for (let port = 0; port < trial.length; port++) trial[port] = 0.5 * (trial[port]! + voltages[port]!);
      found = this.evaluate(trial, openVoltages);
    }
    return found;
  }

  private evaluateLaws(at: Float64Array): void {
    const { laws, conductances, corrections, slopes } = this;
    for (let port = 0; port < laws.length; port++) {
      const law = laws[port]!;
      law.evaluate(at[port]!);
      corrections[port] = law.current - conductances[port]! * at[port]!;
      slopes[port] = law.slope - conductances[port]!;
    }
  }

  private residualOf(row: number, at: Float64Array, openVoltages: Float64Array): number {
    const { impedances, corrections } = this;
    let residual = at[row]! - openVoltages[row]!;
    for (let column = 0; column < at.length; column++) {
      residual += impedances[row * at.length + column]! * corrections[column]!;
    }
    return residual;
  }

  private fillMatrix(): void {
    const { matrix, impedances, slopes } = this;
    const count = slopes.length;
    for (let row = 0; row < count; row++) {
      for (let column = 0; column < count; column++) {
        const diagonal = row === column ? 1 : 0;
        matrix[row * count + column] = diagonal + impedances[row * count + column]! * slopes[column]!;
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

/** Gaussian elimination with the largest pivot of each column, in place; false where the matrix is singular. */
function solveDense(matrix: Float64Array, vector: Float64Array, size: number): boolean {
  for (let column = 0; column < size; column++) {
    let pivotRow = column;
    for (let row = column + 1; row < size; row++) {
      if (Math.abs(matrix[row * size + column]!) > Math.abs(matrix[pivotRow * size + column]!))
        pivotRow = row;
    }
    const pivot = matrix[pivotRow * size + column]!;
    if (pivot === 0 || !Number.isFinite(pivot)) return false;
    if (pivotRow !== column) swapRows(matrix, vector, size, pivotRow, column);
    for (let row = column + 1; row < size; row++) {
      const factor = matrix[row * size + column]! / pivot;
      if (factor === 0) continue;
      for (let entry = column; entry < size; entry++) {
        matrix[row * size + entry]! -= factor * matrix[column * size + entry]!;
      }
      vector[row]! -= factor * vector[column]!;
    }
  }
  for (let row = size - 1; row >= 0; row--) {
    let value = vector[row]!;
    for (let entry = row + 1; entry < size; entry++) value -= matrix[row * size + entry]! * vector[entry]!;
    vector[row] = value / matrix[row * size + row]!;
  }
  return true;
}

function swapRows(
  matrix: Float64Array,
  vector: Float64Array,
  size: number,
  one: number,
  other: number,
): void {
  for (let entry = 0; entry < size; entry++) {
    const kept = matrix[one * size + entry]!;
    matrix[one * size + entry] = matrix[other * size + entry]!;
    matrix[other * size + entry] = kept;
  }
  const kept = vector[one]!;
  vector[one] = vector[other]!;
  vector[other] = kept;
}
