import type { Waveform } from '../../physics/waveform.ts';
import {
  atCurrent,
  atHistory,
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
import { dampedSamples, sourceValue } from '../source-value.ts';

export interface IncomingWaveValues {
  readonly name: string;
  /** Where the line ends. */
  readonly node: string;
  /** The line's reference; remote earth where nothing else is known. */
  readonly reference: string;
  /** Ohms. */
  readonly surgeImpedance: number;
  /** The incident wave at the node, in volts. */
  readonly waveform: Waveform;
}

/**
 * The end of a line so long that nothing comes back from it, with a voltage wave arriving: v = 2u - Z i.
 * The wave's own energy counts as supplied, what is reflected into the line as lost to it.
 */
export function incomingWave(values: IncomingWaveValues): SurgeElement {
  const { name, node, reference, surgeImpedance, waveform } = values;
  return {
    name,
    kind: 'incoming wave',
    nodes: [node, reference],
    innerNodes: [],
    faults: faultsOfPositive({ surge_impedance: surgeImpedance }),
    paths: [[node, reference]],
    mayEndOpen: true,
    shortestTime: waveform.shortestTime,
    start: (step) => [new IncomingWavePart(values, step)],
  };
}

class IncomingWavePart implements Part {
  readonly branches: Part['branches'];
  readonly conductance: readonly number[];
  readonly kind: PartKind = incomingWaves;
  readonly waveform: Waveform;
  readonly damped: ReadonlySet<number>;

  constructor({ node, reference, surgeImpedance, waveform }: IncomingWaveValues, step: number) {
    this.branches = [[node, reference]];
    this.conductance = [1 / surgeImpedance];
    this.waveform = waveform;
    this.damped = dampedSamples(waveform, step);
  }
}

function incomingWaves(parts: readonly Part[], place: PartPlace): RunningParts {
  return new IncomingWaves(parts as readonly IncomingWavePart[], place);
}

/** Of each: admittance, incident wave, incident and reflected power of the last instant, energy given and energy lost so far. */
const stateSize = 6;

class IncomingWaves implements RunningParts {
  private readonly parts: readonly IncomingWavePart[];
  private readonly at: Int32Array;
  private readonly branches: BranchValues;
  private readonly state: Float64Array;

  constructor(parts: readonly IncomingWavePart[], { at, branches, announceBreak }: PartPlace) {
    this.parts = parts;
    this.at = at;
    this.branches = branches;
    this.state = new Float64Array(parts.flatMap(({ conductance }) => [conductance[0]!, 0, 0, 0, 0, 0]));
    for (const { damped } of parts) damped.forEach(announceBreak);
  }

  breaks(sample: number, first: number, end: number): boolean {
    for (let index = first; index < end; index++) if (this.parts[index]!.damped.has(sample)) return true;
    return false;
  }

  begin(step: Step, first: number, end: number): void {
    const { parts, at, branches, state } = this;
    for (let index = first; index < end; index++) {
      const own = stateSize * index;
      const incident = sourceValue(parts[index]!.waveform, step.end, 2 * step.endWeight);
      state[own + 1] = incident;
      branches[at[index]! + atHistory] = -2 * incident * state[own]!;
    }
  }

  finish(step: Step, first: number, end: number): void {
    const { at, branches, state } = this;
    const { beginWeight, endWeight } = step;
    for (let index = first; index < end; index++) {
      const own = stateSize * index;
      const branch = at[index]!;
      const admittance = state[own]!;
      const incident = state[own + 1]!;
      const voltage = branches[branch + atVoltage]!;
      branches[branch + atCurrent] = admittance * voltage + branches[branch + atHistory]!;
      const reflected = voltage - incident;
      const incidentPower = incident * incident * admittance;
      const reflectedPower = reflected * reflected * admittance;
      state[own + 4]! += beginWeight * state[own + 2]! + endWeight * incidentPower;
      state[own + 5]! += beginWeight * state[own + 3]! + endWeight * reflectedPower;
      state[own + 2] = incidentPower;
      state[own + 3] = reflectedPower;
    }
  }

  energyOf(index: number): PartEnergy {
    const own = stateSize * index;
    return { supplied: this.state[own + 4]!, dissipated: this.state[own + 5]!, stored: 0 };
  }
}
