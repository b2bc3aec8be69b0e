import {
  atCurrent,
  atHistory,
  atVoltage,
  type BranchValues,
  faultsOfFinite,
  faultsOfPositive,
  type Part,
  type PartEnergy,
  type PartKind,
  type PartPlace,
  type RunningParts,
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
  readonly kind: PartKind = inductors;
  readonly inductance: number;
  readonly initialCurrent: number;

  constructor(from: string, to: string, inductance: number, initialCurrent: number, step: number) {
    this.branches = [[from, to]];
    this.conductance = [step / 2 / inductance];
    this.inductance = inductance;
    this.initialCurrent = initialCurrent;
  }
}

function inductors(parts: readonly Part[], place: PartPlace): RunningParts {
  return new Inductors(parts as readonly InductorPart[], place);
}

/** Of each inductor: its conductance, and voltage and current of the last instant. */
const stateSize = 3;

class Inductors implements RunningParts {
  private readonly parts: readonly InductorPart[];
  private readonly at: Int32Array;
  private readonly branches: BranchValues;
  private readonly state: Float64Array;

  constructor(parts: readonly InductorPart[], { at, branches }: PartPlace) {
    this.parts = parts;
    this.at = at;
    this.branches = branches;
    this.state = new Float64Array(
      parts.flatMap(({ conductance, initialCurrent }) => [conductance[0]!, 0, initialCurrent]),
    );
  }

  begin(step: Step, first: number, end: number): void {
    const { at, branches, state } = this;
    // One, or zero after a discontinuity.
    const share = step.beginWeight / step.endWeight;
    for (let index = first; index < end; index++) {
      const own = stateSize * index;
      branches[at[index]! + atHistory] = state[own + 2]! + share * state[own]! * state[own + 1]!;
    }
  }

  finish(_step: Step, first: number, end: number): void {
    const { at, branches, state } = this;
    for (let index = first; index < end; index++) {
      const own = stateSize * index;
      const branch = at[index]!;
      const voltage = branches[branch + atVoltage]!;
      const current = state[own]! * voltage + branches[branch + atHistory]!;
      state[own + 1] = voltage;
      state[own + 2] = current;
      branches[branch + atCurrent] = current;
    }
  }

  energyOf(index: number): PartEnergy {
    const current = this.state[stateSize * index + 2]!;
    return { supplied: 0, dissipated: 0, stored: 0.5 * this.parts[index]!.inductance * current ** 2 };
  }
}
