import {
  type BranchValues,
  faultsOfPositive,
  type Part,
  type PartEnergy,
  type PartLoops,
  type Step,
  type SurgeElement,
  type ValueFault,
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
  readonly loops = LOOPS;
  private readonly values: CoupledInductorsValues;
  private firstVoltage = 0;
  private secondVoltage = 0;
  private firstCurrent = 0;
  private secondCurrent = 0;

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

  begin(step: Step, { history }: BranchValues, at: number): void {
    const [first, mutual, , second] = this.conductance;
    const share = step.beginWeight / step.endWeight;
    history[at] = this.firstCurrent + share * (first! * this.firstVoltage + mutual! * this.secondVoltage);
    history[at + 1] =
      this.secondCurrent + share * (mutual! * this.firstVoltage + second! * this.secondVoltage);
  }

  finish(_step: Step, { voltage, current, history }: BranchValues, at: number): void {
    const [first, mutual, , second] = this.conductance;
    this.firstVoltage = voltage[at]!;
    this.secondVoltage = voltage[at + 1]!;
    this.firstCurrent = first! * this.firstVoltage + mutual! * this.secondVoltage + history[at]!;
    this.secondCurrent = mutual! * this.firstVoltage + second! * this.secondVoltage + history[at + 1]!;
    current[at] = this.firstCurrent;
    current[at + 1] = this.secondCurrent;
  }

  energy(): PartEnergy {
    const { firstInductance, secondInductance, mutualInductance } = this.values;
    const own = firstInductance * this.firstCurrent ** 2 + secondInductance * this.secondCurrent ** 2;
    const stored = 0.5 * own + mutualInductance * this.firstCurrent * this.secondCurrent;
    return { supplied: 0, dissipated: 0, stored };
  }
}

const LOOPS: PartLoops = {
  begin(parts, at, step, branches) {
    const own = parts as readonly CoupledInductorsPart[];
    for (let index = 0; index < own.length; index++) own[index]!.begin(step, branches, at[index]!);
  },
  finish(parts, at, step, branches) {
    const own = parts as readonly CoupledInductorsPart[];
    for (let index = 0; index < own.length; index++) own[index]!.finish(step, branches, at[index]!);
  },
};
