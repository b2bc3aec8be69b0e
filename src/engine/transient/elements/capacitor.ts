import {
  type BranchValues,
  faultsOfFinite,
  faultsOfPositive,
  type Part,
  type PartEnergy,
  type PartLoops,
  type Step,
  type SurgeElement,
} from '../element.ts';

export interface CapacitorValues {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** Farads. */
  readonly capacitance: number;
  /** Volts of `from` over `to` at time zero; zero where absent. */
  readonly initialVoltage?: number;
}

/** Linear capacitor: the surge capacitance of a transformer, a bushing, a generator's charge. */
export function capacitor({
  name,
  from,
  to,
  capacitance,
  initialVoltage = 0,
}: CapacitorValues): SurgeElement {
  return {
    name,
    kind: 'capacitor',
    nodes: [from, to],
    innerNodes: [],
    faults: [...faultsOfPositive({ capacitance }), ...faultsOfFinite({ initialVoltage })],
    paths: [[from, to]],
    mayEndOpen: false,
    start: (step) => [new CapacitorPart(from, to, capacitance, initialVoltage, step)],
  };
}

export class CapacitorPart implements Part {
  readonly branches: Part['branches'];
  readonly conductance: readonly number[];
  readonly loops = LOOPS;
  private readonly capacitance: number;
  // Begun as a number: begun as undefined it would be boxed anew at every step.
  private voltage = 0;
  private current = 0;

  constructor(from: string, to: string, capacitance: number, initialVoltage: number, step: number) {
    this.branches = [[from, to]];
    this.conductance = [capacitance / (step / 2)];
    this.capacitance = capacitance;
    this.voltage = initialVoltage;
  }

  begin(step: Step, branches: BranchValues, at: number): void {
    branches.history[at] =
      -this.conductance[0]! * this.voltage - (step.beginWeight / step.endWeight) * this.current;
  }

  finish(_step: Step, branches: BranchValues, at: number): void {
    this.voltage = branches.voltage[at]!;
    this.current = this.conductance[0]! * this.voltage + branches.history[at]!;
    branches.current[at] = this.current;
  }

  energy(): PartEnergy {
    return { supplied: 0, dissipated: 0, stored: 0.5 * this.capacitance * this.voltage ** 2 };
  }
}

const LOOPS: PartLoops = {
  begin(parts, at, step, branches) {
    const own = parts as readonly CapacitorPart[];
    for (let index = 0; index < own.length; index++) own[index]!.begin(step, branches, at[index]!);
  },
  finish(parts, at, step, branches) {
    const own = parts as readonly CapacitorPart[];
    for (let index = 0; index < own.length; index++) own[index]!.finish(step, branches, at[index]!);
  },
};
