import type { Waveform } from '../../physics/waveform.ts';
import {
  type BranchValues,
  faultsOfPositive,
  type Part,
  type PartEnergy,
  type PartLoops,
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
  readonly loops = LOOPS;
  private readonly waveform: Waveform;
  private readonly damped: ReadonlySet<number>;
  private incident = 0;
  private incidentPower = 0;
  private reflectedPower = 0;
  private supplied = 0;
  private dissipated = 0;

  constructor({ node, reference, surgeImpedance, waveform }: IncomingWaveValues, step: number) {
    this.branches = [[node, reference]];
    this.conductance = [1 / surgeImpedance];
    this.waveform = waveform;
    this.damped = dampedSamples(waveform, step);
  }

  breaks(sample: number): boolean {
    return this.damped.has(sample);
  }

  begin(step: Step, branches: BranchValues, at: number): void {
    this.incident = sourceValue(this.waveform, step.end, 2 * step.endWeight);
    branches.history[at] = -2 * this.incident * this.conductance[0]!;
  }

  finish(step: Step, branches: BranchValues, at: number): void {
    const admittance = this.conductance[0]!;
    const voltage = branches.voltage[at]!;
    branches.current[at] = admittance * voltage + branches.history[at]!;
    const incidentPower = this.incident ** 2 * admittance;
    const reflectedPower = (voltage - this.incident) ** 2 * admittance;
    this.supplied += step.beginWeight * this.incidentPower + step.endWeight * incidentPower;
    this.dissipated += step.beginWeight * this.reflectedPower + step.endWeight * reflectedPower;
    this.incidentPower = incidentPower;
    this.reflectedPower = reflectedPower;
  }

  energy(): PartEnergy {
    return { supplied: this.supplied, dissipated: this.dissipated, stored: 0 };
  }
}

const LOOPS: PartLoops = {
  begin(parts, at, step, branches) {
    const own = parts as readonly IncomingWavePart[];
    for (let index = 0; index < own.length; index++) own[index]!.begin(step, branches, at[index]!);
  },
  finish(parts, at, step, branches) {
    const own = parts as readonly IncomingWavePart[];
    for (let index = 0; index < own.length; index++) own[index]!.finish(step, branches, at[index]!);
  },
  breaks(parts, sample) {
    const own = parts as readonly IncomingWavePart[];
    for (let index = 0; index < own.length; index++) if (own[index]!.breaks(sample)) return true;
    return false;
  },
};
