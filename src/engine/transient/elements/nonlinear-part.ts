import {
  atCurrent,
  atVoltage,
  type BranchValues,
  type CurrentLaw,
  type Part,
  type PartEnergy,
  type PartKind,
  type PartPlace,
  type RunningParts,
  type Step,
} from '../element.ts';

/**
 * A branch whose current follows a law. `referenceConductance` is the linear share that enters the network's constant
 * matrix; the solver puts right the difference, so that the choice bears on the numerics alone.
 */
export class NonlinearPart implements Part {
  readonly branches: Part['branches'];
  readonly conductance: readonly number[];
  readonly kind: PartKind = nonlinearParts;
  readonly law: CurrentLaw;

  constructor(from: string, to: string, law: CurrentLaw, referenceConductance: number) {
    this.branches = [[from, to]];
    this.conductance = [referenceConductance];
    this.law = law;
  }
}

function nonlinearParts(parts: readonly Part[], place: PartPlace): RunningParts {
  return new NonlinearParts(parts as readonly NonlinearPart[], place);
}

/** Of each: its power at the last instant, and the energy lost so far. */
const stateSize = 2;

class NonlinearParts implements RunningParts {
  private readonly laws: readonly CurrentLaw[];
  private readonly at: Int32Array;
  private readonly branches: BranchValues;
  private readonly state: Float64Array;

  constructor(parts: readonly NonlinearPart[], { at, branches }: PartPlace) {
    this.laws = parts.map(({ law }) => law);
    this.at = at;
    this.branches = branches;
    this.state = new Float64Array(stateSize * parts.length);
  }

  finish(step: Step, first: number, end: number): void {
    const { laws, at, branches, state } = this;
    const { beginWeight, endWeight } = step;
    for (let index = first; index < end; index++) {
      const own = stateSize * index;
      const branch = at[index]!;
      const law = laws[index]!;
      const voltage = branches[branch + atVoltage]!;
      law.evaluate(voltage);
      const { current } = law;
      branches[branch + atCurrent] = current;
      const power = voltage * current;
      state[own + 1]! += beginWeight * state[own]! + endWeight * power;
      state[own] = power;
    }
  }

  energyOf(index: number): PartEnergy {
    return { supplied: 0, dissipated: this.state[stateSize * index + 1]!, stored: 0 };
  }
}
