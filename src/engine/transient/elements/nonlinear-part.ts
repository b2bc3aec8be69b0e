import {
  atCurrent,
  atFrom,
  atImposed,
  atState,
  atTo,
  atVoltage,
  type CurrentLaw,
  type NetworkNumbers,
  type Part,
  type PartEnergy,
  type PartKind,
  type PartPlace,
  placesOfBranch,
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
  readonly hasHistory = false;
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

/** What is kept of each: its power at the last instant, and the energy lost so far. */
const atPower = atState;
const atEnergy = atState + 1;

class NonlinearParts implements RunningParts {
  private readonly laws: readonly CurrentLaw[];
  private readonly places: Int32Array;
  private readonly numbers: NetworkNumbers;

  constructor(parts: readonly NonlinearPart[], { places, numbers }: PartPlace) {
    this.laws = parts.map(({ law }) => law);
    this.places = places;
    this.numbers = numbers;
  }

  finish({ beginWeight, endWeight }: Step, first: number, end: number): void {
    const { laws, places, numbers } = this;
    for (let index = first; index < end; index++) {
      const law = laws[index]!;
      const place = placesOfBranch * index;
      const own = places[place]!;
      const voltage =
        numbers[places[place + atFrom]!]! - numbers[places[place + atTo]!]! + numbers[own + atImposed]!;
      law.evaluate(voltage);
      const { current } = law;
      const power = voltage * current;
      numbers[own + atVoltage] = voltage;
      numbers[own + atCurrent] = current;
      numbers[own + atEnergy]! += beginWeight * numbers[own + atPower]! + endWeight * power;
      numbers[own + atPower] = power;
    }
  }

  energyOf(index: number): PartEnergy {
    const dissipated = this.numbers[this.places[placesOfBranch * index]! + atEnergy]!;
    return { supplied: 0, dissipated, stored: 0 };
  }
}
