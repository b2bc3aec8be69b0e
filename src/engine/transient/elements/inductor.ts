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

export interface InductorValues {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** Henries. */
  readonly inductance: number;
  /** Amperes from `from` to `to` at time zero; zero where absent. */
  readonly initialCurrent?: number;
}

/** Linear inductor: a lead, an earth conductor, a winding. */
export function inductor({ name, from, to, inductance, initialCurrent = 0 }: InductorValues): SurgeElement {
  return {
    name,
    kind: 'inductor',
    nodes: [from, to],
    innerNodes: [],
    faults: [...faultsOfPositive({ inductance }), ...faultsOfFinite({ initialCurrent })],
    paths: [[from, to]],
    mayEndOpen: false,
    start: (step) => [new InductorPart(from, to, inductance, initialCurrent, step)],
  };
}

export class InductorPart implements Part {
  readonly branches: Part['branches'];
  readonly conductance: readonly number[];
  readonly loops = LOOPS;
  private readonly inductance: number;
  private voltage = 0;
  // Begun as a number: begun as undefined it would be boxed anew at every step.
  private current = 0;

  constructor(from: string, to: string, inductance: number, initialCurrent: number, step: number) {
    this.branches = [[from, to]];
    this.conductance = [step / 2 / inductance];
    this.inductance = inductance;
    this.current = initialCurrent;
  }

  begin(step: Step, branches: BranchValues, at: number): void {
    branches.history[at] = this.current + (step.beginWeight / this.inductance) * this.voltage;
  }

  finish(_step: Step, branches: BranchValues, at: number): void {
    this.voltage = branches.voltage[at]!;
    this.current = this.conductance[0]! * this.voltage + branches.history[at]!;
    branches.current[at] = this.current;
  }

  energy(): PartEnergy {
    return { supplied: 0, dissipated: 0, stored: 0.5 * this.inductance * this.current ** 2 };
  }
}

const LOOPS: PartLoops = {
  begin(parts, at, step, branches) {
    const own = parts as readonly InductorPart[];
    for (let index = 0; index < own.length; index++) own[index]!.begin(step, branches, at[index]!);
  },
  finish(parts, at, step, branches) {
    const own = parts as readonly InductorPart[];
    for (let index = 0; index < own.length; index++) own[index]!.finish(step, branches, at[index]!);
  },
};
