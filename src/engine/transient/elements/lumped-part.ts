import {
  atCurrent,
  atFrom,
  atHistory,
  atImposed,
  atState,
  atTo,
  atVoltage,
  type Branch,
  type NetworkNumbers,
  type Part,
  type PartEnergy,
  type PartKind,
  type PartPlace,
  placesOfBranch,
  type RunningParts,
  type Step,
} from '../element.ts';

/** The last instant of one branch of a part. */
export interface LumpedState {
  readonly voltage: number;
  readonly current: number;
  /** Joules that went into the branch since time zero, by its power. */
  readonly received: number;
}

export interface LumpedValues {
  readonly branches: readonly Branch[];
  /** Symmetric, row by row, in siemens; of one branch or of two that are coupled. */
  readonly conductance: readonly number[];
  /**
   * By which shares the last current, and the last current beside the history, make the next history under the trapezoidal rule. A
   * resistor has none.
   */
  readonly shares?: HistoryShares;
  /** Volts and amperes at time zero; zero where absent. */
  readonly initialVoltage?: number;
  readonly initialCurrent?: number;
  readonly energy: (first: LumpedState, second: LumpedState | undefined) => PartEnergy;
}

interface HistoryShares {
  readonly current: -1 | 1;
  readonly driven: -1 | 1;
}

/** A current that goes on: h = i + G v, and after a discontinuity h = i. */
export const inductive: HistoryShares = { current: 1, driven: 1 };
/** A voltage that goes on: h = -i - G v, and after a discontinuity h = -G v. */
export const capacitive: HistoryShares = { current: -1, driven: -1 };

/** Resistance, inductance or capacitance, or two inductances that are coupled. */
export class LumpedPart implements Part {
  readonly branches: Part['branches'];
  readonly conductance: readonly number[];
  readonly hasHistory: boolean;
  readonly kind: PartKind = lumpedBranches;
  readonly values: LumpedValues;

  constructor(values: LumpedValues) {
    this.branches = values.branches;
    this.conductance = values.conductance;
    this.hasHistory = values.shares !== undefined;
    this.values = values;
  }
}

function lumpedBranches(parts: readonly Part[], place: PartPlace): RunningParts {
  return new LumpedBranches(parts as readonly LumpedPart[], place);
}

/**
 * What is kept of each branch: its conductance and the mutual one, the shares of its history, its power at the last instant and the energy
 * received so far.
 */
const atOwn = atState;
const atMutual = atState + 1;
const atCurrentShare = atState + 2;
const atDrivenShare = atState + 3;
const atPower = atState + 4;
const atEnergy = atState + 5;

class LumpedBranches implements RunningParts {
  private readonly places: Int32Array;
  private readonly numbers: NetworkNumbers;
  /** Of each branch the number of the one that it is coupled to, or its own where there is none. */
  private readonly partners: Int32Array;
  private readonly energies: readonly LumpedValues['energy'][];

  constructor(parts: readonly LumpedPart[], { places, numbers }: PartPlace) {
    this.places = places;
    this.numbers = numbers;
    this.partners = Int32Array.from(partnersOf(parts));
    this.energies = parts.flatMap(({ values }) => values.branches.map(() => values.energy));
    this.start(parts);
  }

  /** After a discontinuity the histories that `finish` wrote for a step of the trapezoidal rule do not hold. */
  beginDamped(first: number, end: number): void {
    const { places, numbers } = this;
    for (let index = first; index < end; index++) {
      const own = places[placesOfBranch * index]!;
      const currentShare = Math.max(0, numbers[own + atCurrentShare]!);
      const drivenShare = Math.min(0, numbers[own + atDrivenShare]!);
      this.writeHistory(index, currentShare, drivenShare);
    }
  }

  /** Writes the histories of the next step too. */
  finish({ beginWeight, endWeight }: Step, first: number, end: number): void {
    const { places, numbers, partners } = this;
    for (let index = first; index < end; index++) {
      const place = placesOfBranch * index;
      const own = places[place]!;
      const voltage =
        numbers[places[place + atFrom]!]! - numbers[places[place + atTo]!]! + numbers[own + atImposed]!;
      const mutual = numbers[own + atMutual]!;
      let driven = numbers[own + atOwn]! * voltage;
      if (mutual !== 0) {
        const other = placesOfBranch * partners[index]!;
        const [from, to] = [numbers[places[other + atFrom]!]!, numbers[places[other + atTo]!]!];
        driven += mutual * (from - to + numbers[places[other]! + atImposed]!);
      }
      const current = driven + numbers[own + atHistory]!;
      const power = voltage * current;
      numbers[own + atVoltage] = voltage;
      numbers[own + atCurrent] = current;
      numbers[own + atHistory] =
        numbers[own + atCurrentShare]! * current + numbers[own + atDrivenShare]! * driven;
      numbers[own + atEnergy]! += beginWeight * numbers[own + atPower]! + endWeight * power;
      numbers[own + atPower] = power;
    }
  }

  energyOf(index: number): PartEnergy {
    const isPair = this.partners[index] !== index;
    return this.energies[index]!(this.stateAt(index), isPair ? this.stateAt(index + 1) : undefined);
  }

  private start(parts: readonly LumpedPart[]): void {
    const { places, numbers } = this;
    let index = 0;
    for (const { values } of parts) {
      for (const branch of values.branches.keys()) {
        const own = places[placesOfBranch * index++]!;
        numbers.set(stateOf(values, branch), own + atOwn);
        numbers[own + atVoltage] = values.initialVoltage ?? 0;
        numbers[own + atCurrent] = values.initialCurrent ?? 0;
      }
    }
    for (index = 0; index < this.partners.length; index++) {
      const own = places[placesOfBranch * index]!;
      this.writeHistory(index, numbers[own + atCurrentShare]!, numbers[own + atDrivenShare]!);
    }
  }

  private writeHistory(index: number, currentShare: number, drivenShare: number): void {
    const { places, numbers, partners } = this;
    const own = places[placesOfBranch * index]!;
    const driven =
      numbers[own + atOwn]! * numbers[own + atVoltage]! +
      numbers[own + atMutual]! * numbers[places[placesOfBranch * partners[index]!]! + atVoltage]!;
    numbers[own + atHistory] = currentShare * numbers[own + atCurrent]! + drivenShare * driven;
  }

  private stateAt(index: number): LumpedState {
    const { numbers } = this;
    const own = this.places[placesOfBranch * index]!;
    const [voltage, current] = [numbers[own + atVoltage]!, numbers[own + atCurrent]!];
    return { voltage, current, received: numbers[own + atEnergy]! };
  }
}

function stateOf({ branches, conductance, shares }: LumpedValues, branch: number): number[] {
  const own = conductance[branch * branches.length + branch]!;
  const mutual = branches.length === 1 ? 0 : conductance[1]!;
  return [own, mutual, shares?.current ?? 0, shares?.driven ?? 0];
}

/** Of each branch of the parts the number of the one that it is coupled to, or its own. */
function partnersOf(parts: readonly LumpedPart[]): number[] {
  let first = 0;
  return parts.flatMap(({ branches }) => {
    const own = branches.map((_, branch) => first + branches.length - 1 - branch);
    first += branches.length;
    return own;
  });
}
