import {
  atCurrent,
  atHistory,
  atVoltage,
  type BranchValues,
  faultsOfPositive,
  type Part,
  type PartEnergy,
  type PartKind,
  type PartPlace,
  type RunningParts,
  type Step,
  type SurgeElement,
  type ValueFault,
  valuesOfBranch,
} from '../element.ts';

export interface CoupledInductorsValues {
  readonly name: string;
  readonly firstFrom: string;
  readonly firstTo: string;
  readonly secondFrom: string;
  readonly secondTo: string;
  /** Henries. */
  readonly firstInductance: number;
  readonly secondInductance: number;
  /** Henries; its square is less than the product of the inductances. Positive where both currents run alongside. */
  readonly mutualInductance: number;
}

/** Two leads with mutual inductance. */
export function coupledInductors(values: CoupledInductorsValues): SurgeElement {
  const { firstInductance, secondInductance, mutualInductance } = values;
  const faults: ValueFault[] = faultsOfPositive({
    first_inductance: firstInductance,
    second_inductance: secondInductance,
  });
  if (!(mutualInductance ** 2 < firstInductance * secondInductance)) {
    faults.push({ quantity: 'mutual_inductance', value: mutualInductance, requirement: 'definite' });
  }
  return {
    name: values.name,
    kind: 'coupled inductors',
    nodes: [values.firstFrom, values.firstTo, values.secondFrom, values.secondTo],
    innerNodes: [],
    faults,
    paths: [
      [values.firstFrom, values.firstTo],
      [values.secondFrom, values.secondTo],
    ],
    mayEndOpen: false,
    start: (step) => [new CoupledInductorsPart(values, step)],
  };
}

class CoupledInductorsPart implements Part {
  readonly branches: Part['branches'];
  readonly conductance: readonly number[];
  readonly kind: PartKind = coupledPairs;
  readonly values: CoupledInductorsValues;

  constructor(values: CoupledInductorsValues, step: number) {
    const { firstInductance, secondInductance, mutualInductance } = values;
    this.branches = [
      [values.firstFrom, values.firstTo],
      [values.secondFrom, values.secondTo],
    ];
    const factor = step / 2 / (firstInductance * secondInductance - mutualInductance ** 2);
    const mutual = -factor * mutualInductance;
    this.conductance = [factor * secondInductance, mutual, mutual, factor * firstInductance];
    this.values = values;
  }
}

function coupledPairs(parts: readonly Part[], place: PartPlace): RunningParts {
  return new CoupledPairs(parts as readonly CoupledInductorsPart[], place);
}

/** Of each pair: its conductances (first, mutual, second), and both voltages and both currents of the last instant. */
const stateSize = 7;

class CoupledPairs implements RunningParts {
  private readonly parts: readonly CoupledInductorsPart[];
  private readonly at: Int32Array;
  private readonly branches: BranchValues;
  private readonly state: Float64Array;

  constructor(parts: readonly CoupledInductorsPart[], { at, branches }: PartPlace) {
    this.parts = parts;
    this.at = at;
    this.branches = branches;
    this.state = new Float64Array(
      parts.flatMap(({ conductance: [first, mutual, , second] }) => [first!, mutual!, second!, 0, 0, 0, 0]),
    );
  }

  begin(step: Step, first: number, end: number): void {
    const { at, branches, state } = this;
    const share = step.beginWeight / step.endWeight;
    for (let index = first; index < end; index++) {
      const own = stateSize * index;
      const branch = at[index]!;
      const mutual = state[own + 1]!;
      const firstVoltage = state[own + 3]!;
      const secondVoltage = state[own + 4]!;
      branches[branch + atHistory] =
        state[own + 5]! + share * (state[own]! * firstVoltage + mutual * secondVoltage);
      branches[branch + valuesOfBranch + atHistory] =
        state[own + 6]! + share * (mutual * firstVoltage + state[own + 2]! * secondVoltage);
    }
  }

  finish(_step: Step, first: number, end: number): void {
    const { at, branches, state } = this;
    for (let index = first; index < end; index++) {
      const own = stateSize * index;
      const branch = at[index]!;
      const other = branch + valuesOfBranch;
      const mutual = state[own + 1]!;
      const firstVoltage = branches[branch + atVoltage]!;
      const secondVoltage = branches[other + atVoltage]!;
      const firstCurrent =
        state[own]! * firstVoltage + mutual * secondVoltage + branches[branch + atHistory]!;
      const secondCurrent =
        mutual * firstVoltage + state[own + 2]! * secondVoltage + branches[other + atHistory]!;
      state[own + 3] = firstVoltage;
      state[own + 4] = secondVoltage;
      state[own + 5] = firstCurrent;
      state[own + 6] = secondCurrent;
      branches[branch + atCurrent] = firstCurrent;
      branches[other + atCurrent] = secondCurrent;
    }
  }

  energyOf(index: number): PartEnergy {
    const { firstInductance, secondInductance, mutualInductance } = this.parts[index]!.values;
    const firstCurrent = this.state[stateSize * index + 5]!;
    const secondCurrent = this.state[stateSize * index + 6]!;
    const own = firstInductance * firstCurrent ** 2 + secondInductance * secondCurrent ** 2;
    const stored = 0.5 * own + mutualInductance * firstCurrent * secondCurrent;
    return { supplied: 0, dissipated: 0, stored };
  }
}
