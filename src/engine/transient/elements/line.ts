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
  type ValueFault,
} from '../element.ts';
import { type WaveEnd, WaveHistories } from './wave-histories.ts';

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
      const common = { surgeImpedance, attenuation, step, delay, initialWave: initialVoltage / 2 };
      const near = new LineEnd({ ...common, node: from, reference: fromReference });
      const far = new LineEnd({ ...common, node: to, reference: toReference });
      near.other = far;
      far.other = near;
      return [near, far];
    },
  };
}

interface LineEndValues {
  readonly node: string;
  readonly reference: string;
  readonly surgeImpedance: number;
  readonly attenuation: number;
  readonly step: number;
  readonly delay: number;
  readonly initialWave: number;
}

/** One end of a line. It holds the energy of the waves that it sent and that have not arrived yet. */
class LineEnd implements Part, WaveEnd {
  readonly branches: Part['branches'];
  readonly conductance: readonly number[];
  readonly kind: PartKind = lineEnds;
  readonly attenuation: number;
  readonly step: number;
  readonly delayInSteps: number;
  readonly initialWave: number;
  other: LineEnd = this;

  constructor(values: LineEndValues) {
    this.branches = [[values.node, values.reference]];
    this.conductance = [1 / values.surgeImpedance];
    this.attenuation = values.attenuation;
    this.step = values.step;
    this.delayInSteps = values.delay / values.step;
    this.initialWave = values.initialWave;
  }
}

function lineEnds(parts: readonly Part[], place: PartPlace): RunningParts {
  return new LineEnds(parts as readonly LineEnd[], place);
}

/** Of each end: admittance, attenuation, power lost to it at the last instant, energy lost so far. */
const stateSize = 4;

class LineEnds implements RunningParts {
  private readonly at: Int32Array;
  private readonly branches: BranchValues;
  private readonly state: Float64Array;
  private readonly waves: WaveHistories;
  private readonly step: number;
  private readonly announceBreak: (sample: number) => void;
  private newest = 0;

  constructor(parts: readonly LineEnd[], { at, branches, announceBreak }: PartPlace) {
    this.at = at;
    this.branches = branches;
    this.state = new Float64Array(
      parts.flatMap(({ conductance, attenuation }) => [conductance[0]!, attenuation, 0, 0]),
    );
    this.waves = new WaveHistories(parts);
    this.step = parts[0]!.step;
    this.announceBreak = announceBreak;
  }

  breaks(sample: number, first: number, end: number): boolean {
    for (let index = first; index < end; index++) if (this.waves.jumpArrives(index, sample)) return true;
    return false;
  }

  begin(step: Step, first: number, end: number): void {
    const { at, branches, state, waves } = this;
    const { arriving } = waves;
    waves.receive(step, first, end);
    for (let index = first; index < end; index++) {
      const own = stateSize * index;
      const wave = arriving[index]!;
      branches[at[index]! + atHistory] = -2 * state[own + 1]! * wave * state[own]!;
    }
  }

  finish(step: Step, first: number, end: number): void {
    const { at, branches, state, waves } = this;
    const { arriving, leaving } = waves;
    for (let index = first; index < end; index++) {
      const own = stateSize * index;
      const branch = at[index]!;
      const voltage = branches[branch + atVoltage]!;
      branches[branch + atCurrent] = state[own]! * voltage + branches[branch + atHistory]!;
      leaving[index] = voltage - state[own + 1]! * arriving[index]!;
      if (state[own + 1] !== 1) this.loseEnergy(index, step);
    }
    if (step.share !== 1) return;
    this.newest = step.sample;
    waves.send(step.sample, first, end);
    if (step.damped) this.markJumps(step.sample, first, end);
  }

  energyOf(index: number): PartEnergy {
    const own = stateSize * index;
    const stored = this.waves.squareUnderway(index, this.newest) * this.step * this.state[own]!;
    return { supplied: 0, dissipated: this.state[own + 3]!, stored };
  }

  private loseEnergy(index: number, { beginWeight, endWeight }: Step): void {
    const { state } = this;
    const own = stateSize * index;
    const attenuation = state[own + 1]!;
    const arriving = this.waves.arriving[index]!;
    const lostPower = (1 - attenuation * attenuation) * (arriving * arriving) * state[own]!;
    state[own + 3]! += beginWeight * state[own + 2]! + endWeight * lostPower;
    state[own + 2] = lostPower;
  }

  private markJumps(sample: number, first: number, end: number): void {
    const { waves } = this;
    for (let index = first; index < end; index++) {
      const arrival = waves.markJump(index, sample);
      if (arrival !== undefined) this.announceBreak(arrival);
    }
  }
}
