import {
  atCurrent,
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
  readonly kind: PartKind = resistors;

  constructor(from: string, to: string, resistance: number) {
    this.branches = [[from, to]];
    this.conductance = [1 / resistance];
  }
}

function resistors(parts: readonly Part[], place: PartPlace): RunningParts {
  return new Resistors(parts, place);
}

/** Of each resistor: its conductance, its power at the last instant and the energy lost so far. */
const stateSize = 3;

class Resistors implements RunningParts {
  private readonly at: Int32Array;
  private readonly branches: BranchValues;
  private readonly state: Float64Array;

  constructor(parts: readonly Part[], { at, branches }: PartPlace) {
    this.at = at;
    this.branches = branches;
    this.state = new Float64Array(parts.flatMap(({ conductance }) => [conductance[0]!, 0, 0]));
  }

  finish(step: Step, first: number, end: number): void {
    const { at, branches, state } = this;
    const { beginWeight, endWeight } = step;
    for (let index = first; index < end; index++) {
      const own = stateSize * index;
      const branch = at[index]!;
      const across = branches[branch + atVoltage]!;
      const through = state[own]! * across;
      branches[branch + atCurrent] = through;
      const power = across * through;
      state[own + 2]! += beginWeight * state[own + 1]! + endWeight * power;
      state[own + 1] = power;
    }
  }

  energyOf(index: number): PartEnergy {
    return { supplied: 0, dissipated: this.state[stateSize * index + 2]!, stored: 0 };
  }
}
