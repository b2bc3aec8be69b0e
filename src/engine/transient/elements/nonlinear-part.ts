import type { BranchValues, CurrentLaw, Part, PartEnergy, PartLoops, Step } from '../element.ts';

/**
 * A branch whose current follows a law. `referenceConductance` is the linear share that enters the network's constant
 * matrix; the solver puts right the difference, so that the choice bears on the numerics alone.
 */
export class NonlinearPart implements Part {
  readonly branches: Part['branches'];
  readonly conductance: readonly number[];
  readonly loops = LOOPS;
  readonly law: CurrentLaw;
  private power = 0;
  private dissipated = 0;

  constructor(from: string, to: string, law: CurrentLaw, referenceConductance: number) {
    this.branches = [[from, to]];
    this.conductance = [referenceConductance];
    this.law = law;
  }

  finish(step: Step, branches: BranchValues, at: number): void {
    const voltage = branches.voltage[at]!;
    this.law.evaluate(voltage);
    branches.current[at] = this.law.current;
    const power = voltage * this.law.current;
    this.dissipated += step.beginWeight * this.power + step.endWeight * power;
    this.power = power;
  }

  energy(): PartEnergy {
    return { supplied: 0, dissipated: this.dissipated, stored: 0 };
  }
}

const LOOPS: PartLoops = {
  finish(parts, at, step, branches) {
    const own = parts as readonly NonlinearPart[];
    for (let index = 0; index < own.length; index++) own[index]!.finish(step, branches, at[index]!);
  },
};
