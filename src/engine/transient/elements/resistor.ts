import {
  type BranchValues,
  faultsOfPositive,
  type Part,
  type PartEnergy,
  type PartLoops,
  type Step,
  type SurgeElement,
} from '../element.ts';

export interface ResistorValues {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** Ohms. */
  readonly resistance: number;
}

/** Linear resistor. */
export function resistor({ name, from, to, resistance }: ResistorValues): SurgeElement {
  return {
    name,
    kind: 'resistor',
    nodes: [from, to],
    innerNodes: [],
    faults: faultsOfPositive({ resistance }),
    paths: [[from, to]],
    mayEndOpen: false,
    start: () => [new ResistorPart(from, to, resistance)],
  };
}

export class ResistorPart implements Part {
  readonly branches: Part['branches'];
  readonly conductance: readonly number[];
  readonly loops = LOOPS;
  private power = 0;
  private dissipated = 0;

  constructor(from: string, to: string, resistance: number) {
    this.branches = [[from, to]];
    this.conductance = [1 / resistance];
  }

  finish(step: Step, { voltage, current }: BranchValues, at: number): void {
    const across = voltage[at]!;
    const through = this.conductance[0]! * across;
    current[at] = through;
    const power = across * through;
    this.dissipated += step.beginWeight * this.power + step.endWeight * power;
    this.power = power;
  }

  energy(): PartEnergy {
    return { supplied: 0, dissipated: this.dissipated, stored: 0 };
  }
}

const LOOPS: PartLoops = {
  finish(parts, at, step, branches) {
    const own = parts as readonly ResistorPart[];
    for (let index = 0; index < own.length; index++) own[index]!.finish(step, branches, at[index]!);
  },
};
