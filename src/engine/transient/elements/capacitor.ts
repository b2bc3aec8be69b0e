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
  readonly kind: PartKind = capacitors;
  readonly capacitance: number;
  readonly initialVoltage: number;

  constructor(from: string, to: string, capacitance: number, initialVoltage: number, step: number) {
    this.branches = [[from, to]];
    this.conductance = [capacitance / (step / 2)];
    this.capacitance = capacitance;
    this.initialVoltage = initialVoltage;
  }
}

function capacitors(parts: readonly Part[], place: PartPlace): RunningParts {
  return new Capacitors(parts as readonly CapacitorPart[], place);
}

/** Of each capacitor: its conductance, and voltage and current of the last instant. */
const stateSize = 3;

class Capacitors implements RunningParts {
  private readonly parts: readonly CapacitorPart[];
  private readonly at: Int32Array;
  private readonly branches: BranchValues;
  private readonly state: Float64Array;

  constructor(parts: readonly CapacitorPart[], { at, branches }: PartPlace) {
    this.parts = parts;
    this.at = at;
    this.branches = branches;
    this.state = new Float64Array(
      parts.flatMap(({ conductance, initialVoltage }) => [conductance[0]!, initialVoltage, 0]),
    );
  }

  begin(step: Step, first: number, end: number): void {
    const { at, branches, state } = this;
    const share = step.beginWeight / step.endWeight;
    for (let index = first; index < end; index++) {
      const own = stateSize * index;
      branches[at[index]! + atHistory] = -state[own]! * state[own + 1]! - share * state[own + 2]!;
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
    const voltage = this.state[stateSize * index + 1]!;
    return { supplied: 0, dissipated: 0, stored: 0.5 * this.parts[index]!.capacitance * voltage ** 2 };
  }
}
