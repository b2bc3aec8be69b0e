import {
  type BranchValues,
  faultsOfFinite,
  faultsOfPositive,
  type Part,
  type PartEnergy,
  type PartLoops,
  type Step,
  type SurgeElement,
  type ValueFault,
} from '../element.ts';
import { WaveHistory } from './wave-history.ts';

export interface LineValues {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** Ohms. */
  readonly surgeImpedance: number;
  /** Travel time, seconds. */
  readonly delay: number;
  /** The conductor against which each end counts (a sheath, a tank); remote earth where absent. */
  readonly fromReference?: string;
  readonly toReference?: string;
  /** Share of a wave that arrives at the other end: 1 without losses, less on a distortionless line. */
  readonly attenuation?: number;
  /** Volts to which the line is charged at time zero; zero where absent. */
  readonly initialVoltage?: number;
}

/**
 * Line or cable of surge impedance Z and travel time T: at each end v = Z i + 2 b, where b is the wave that left
 * the other end T ago. The ends meet only through these waves, so that a line divides the network.
 */
export function line(values: LineValues): SurgeElement {
  const { name, from, to, surgeImpedance, delay, attenuation = 1, initialVoltage = 0 } = values;
  const fromReference = values.fromReference ?? 'earth';
  const toReference = values.toReference ?? 'earth';
  const faults: ValueFault[] = [
    ...faultsOfPositive({ surge_impedance: surgeImpedance, delay, attenuation }),
    ...faultsOfFinite({ initial_voltage: initialVoltage }),
  ];
  if (attenuation > 1) faults.push({ quantity: 'attenuation', value: attenuation, requirement: 'at most 1' });
  return {
    name,
    kind: 'line',
    nodes: [from, to, fromReference, toReference],
    innerNodes: [],
    faults,
    paths: [
      [from, fromReference],
      [to, toReference],
    ],
    mayEndOpen: true,
    delay,
    start: (step) => {
      const wave = initialVoltage / 2;
      const outward = new WaveHistory(delay / step, wave);
      const homeward = new WaveHistory(delay / step, wave);
      const common = { surgeImpedance, attenuation, step };
      return [
        new LineEnd({ ...common, node: from, reference: fromReference, sent: outward, received: homeward }),
        new LineEnd({ ...common, node: to, reference: toReference, sent: homeward, received: outward }),
      ];
    },
  };
}

interface LineEndValues {
  readonly node: string;
  readonly reference: string;
  readonly surgeImpedance: number;
  readonly attenuation: number;
  readonly step: number;
  /** Waves that leave this end, and those that leave the other one. */
  readonly sent: WaveHistory;
  readonly received: WaveHistory;
}

/** One end of a line. It holds the energy of the waves that it sent and that have not arrived yet. */
class LineEnd implements Part {
  readonly branches: Part['branches'];
  readonly conductance: readonly number[];
  readonly loops = LOOPS;
  private readonly sent: WaveHistory;
  private readonly received: WaveHistory;
  private readonly admittance: number;
  private readonly attenuation: number;
  private readonly step: number;
  private arriving = 0;
  private lostPower = 0;
  private dissipated = 0;

  constructor(values: LineEndValues) {
    this.branches = [[values.node, values.reference]];
    this.conductance = [1 / values.surgeImpedance];
    this.sent = values.sent;
    this.received = values.received;
    this.admittance = 1 / values.surgeImpedance;
    this.attenuation = values.attenuation;
    this.step = values.step;
  }

  breaks(sample: number): boolean {
    return this.received.jumpArrives(sample);
  }

  begin(step: Step, branches: BranchValues, at: number): void {
    this.arriving = this.received.read(step.sample, step.share);
    branches.history[at] = -2 * this.attenuation * this.arriving * this.admittance;
  }

  finish(step: Step, branches: BranchValues, at: number): void {
    const { attenuation, admittance, sent } = this;
    const voltage = branches.voltage[at]!;
    branches.current[at] = admittance * voltage + branches.history[at]!;
    if (step.share === 1) sent.write(step.sample, voltage - attenuation * this.arriving, step.damped);
    if (attenuation === 1) return;
    const lostPower = (1 - attenuation ** 2) * this.arriving ** 2 * admittance;
    this.dissipated += step.beginWeight * this.lostPower + step.endWeight * lostPower;
    this.lostPower = lostPower;
  }

  energy(): PartEnergy {
    const stored = this.sent.squareUnderway() * this.step * this.admittance;
    return { supplied: 0, dissipated: this.dissipated, stored };
  }
}

const LOOPS: PartLoops = {
  begin(parts, at, step, branches) {
    const own = parts as readonly LineEnd[];
    for (let index = 0; index < own.length; index++) own[index]!.begin(step, branches, at[index]!);
  },
  finish(parts, at, step, branches) {
    const own = parts as readonly LineEnd[];
    for (let index = 0; index < own.length; index++) own[index]!.finish(step, branches, at[index]!);
  },
  breaks(parts, sample) {
    const own = parts as readonly LineEnd[];
    for (let index = 0; index < own.length; index++) if (own[index]!.breaks(sample)) return true;
    return false;
  },
};
