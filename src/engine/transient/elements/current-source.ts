import type { Waveform } from '../../physics/waveform.ts';
import type { BranchValues, Part, PartEnergy, PartLoops, Step, SurgeElement } from '../element.ts';
import { dampedSamples, sourceValue } from '../source-value.ts';

export interface CurrentSourceValues {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** Amperes that flow through the source from `from` to `to`: a stroke to a line flows from earth to the line. */
  readonly waveform: Waveform;
}

/** Ideal current source. */
export function currentSource({ name, from, to, waveform }: CurrentSourceValues): SurgeElement {
  return {
    name,
    kind: 'current source',
    nodes: [from, to],
    innerNodes: [],
    faults: [],
    paths: [],
    mayEndOpen: false,
    shortestTime: waveform.shortestTime,
    start: (step) => [new CurrentSourcePart(from, to, waveform, step)],
  };
}

class CurrentSourcePart implements Part {
  readonly branches: Part['branches'];
  readonly conductance = [0];
  readonly loops = LOOPS;
  private readonly waveform: Waveform;
  private readonly damped: ReadonlySet<number>;
  private power = 0;
  private supplied = 0;

  constructor(from: string, to: string, waveform: Waveform, step: number) {
    this.branches = [[from, to]];
    this.waveform = waveform;
    this.damped = dampedSamples(waveform, step);
  }

  breaks(sample: number): boolean {
    return this.damped.has(sample);
  }

  begin(step: Step, branches: BranchValues, at: number): void {
    branches.history[at] = sourceValue(this.waveform, step.end, 2 * step.endWeight);
  }

  finish(step: Step, branches: BranchValues, at: number): void {
    const current = branches.history[at]!;
    branches.current[at] = current;
    const power = -branches.voltage[at]! * current;
    this.supplied += step.beginWeight * this.power + step.endWeight * power;
    this.power = power;
  }

  energy(): PartEnergy {
    return { supplied: this.supplied, dissipated: 0, stored: 0 };
  }
}

const LOOPS: PartLoops = {
  begin(parts, at, step, branches) {
    const own = parts as readonly CurrentSourcePart[];
    for (let index = 0; index < own.length; index++) own[index]!.begin(step, branches, at[index]!);
  },
  finish(parts, at, step, branches) {
    const own = parts as readonly CurrentSourcePart[];
    for (let index = 0; index < own.length; index++) own[index]!.finish(step, branches, at[index]!);
  },
  breaks(parts, sample) {
    const own = parts as readonly CurrentSourcePart[];
    for (let index = 0; index < own.length; index++) if (own[index]!.breaks(sample)) return true;
    return false;
  },
};
