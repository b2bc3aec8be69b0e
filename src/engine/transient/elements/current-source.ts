import type { Waveform } from '../../physics/waveform.ts';
import {
  atCurrent,
  atHistory,
  atVoltage,
  type BranchValues,
  type Part,
  type PartEnergy,
  type PartKind,
  type PartPlace,
  type RunningParts,
  type Step,
  type SurgeElement,
} from '../element.ts';
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
  readonly kind: PartKind = currentSources;
  readonly waveform: Waveform;
  readonly damped: ReadonlySet<number>;

  constructor(from: string, to: string, waveform: Waveform, step: number) {
    this.branches = [[from, to]];
    this.waveform = waveform;
    this.damped = dampedSamples(waveform, step);
  }
}

function currentSources(parts: readonly Part[], place: PartPlace): RunningParts {
  return new CurrentSources(parts as readonly CurrentSourcePart[], place);
}

/** Of each source: its power at the last instant, and the energy given so far. */
const stateSize = 2;

class CurrentSources implements RunningParts {
  private readonly parts: readonly CurrentSourcePart[];
  private readonly at: Int32Array;
  private readonly branches: BranchValues;
  private readonly state: Float64Array;

  constructor(parts: readonly CurrentSourcePart[], { at, branches, announceBreak }: PartPlace) {
    this.parts = parts;
    this.at = at;
    this.branches = branches;
    this.state = new Float64Array(stateSize * parts.length);
    for (const { damped } of parts) damped.forEach(announceBreak);
  }

  breaks(sample: number, first: number, end: number): boolean {
    for (let index = first; index < end; index++) if (this.parts[index]!.damped.has(sample)) return true;
    return false;
  }

  begin(step: Step, first: number, end: number): void {
    const { parts, at, branches } = this;
    for (let index = first; index < end; index++) {
      branches[at[index]! + atHistory] = sourceValue(parts[index]!.waveform, step.end, 2 * step.endWeight);
    }
  }

  finish(step: Step, first: number, end: number): void {
    const { at, branches, state } = this;
    const { beginWeight, endWeight } = step;
    for (let index = first; index < end; index++) {
      const own = stateSize * index;
      const branch = at[index]!;
      const current = branches[branch + atHistory]!;
      branches[branch + atCurrent] = current;
      const power = -branches[branch + atVoltage]! * current;
      state[own + 1]! += beginWeight * state[own]! + endWeight * power;
      state[own] = power;
    }
  }

  energyOf(index: number): PartEnergy {
    return { supplied: this.state[stateSize * index + 1]!, dissipated: 0, stored: 0 };
  }
}
