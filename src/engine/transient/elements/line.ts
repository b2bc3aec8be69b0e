import {
  atCurrent,
  atFrom,
  atHistory,
  atImposed,
  atState,
  atTo,
  atVoltage,
  faultsOfFinite,
  faultsOfPositive,
  type NetworkNumbers,
  type Part,
  type PartEnergy,
  type PartKind,
  type PartPlace,
  placesOfBranch,
  type RunningParts,
  type Step,
  type SurgeElement,
  type ValueFault,
} from '../element.ts';
import {
  atMask,
  atOtherRing,
  atRing,
  atWholeSteps,
  ringSize,
  type WaveEnd,
  WaveHistories,
} from './wave-histories.ts';

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
  readonly hasHistory = true;
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

/**
 * What is kept of each end: admittance, attenuation, the wave that arrives, the largest that has left, power lost to it at the last instant
 * and energy lost so far.
 */
const atAdmittance = atState;
const atAttenuation = atState + 1;
const atArriving = atState + 2;
const atLargest = atState + 3;
const atLost = atState + 4;
const atEnergyLost = atState + 5;

class LineEnds implements RunningParts {
  private readonly places: Int32Array;
  private readonly numbers: NetworkNumbers;
  private readonly waves: WaveHistories;
  private readonly isLossless: boolean;
  private readonly step: number;
  private readonly announceBreak: (sample: number) => void;
  private newest = 0;

  constructor(parts: readonly LineEnd[], { places, numbers, announceBreak }: PartPlace) {
    this.places = places;
    this.numbers = numbers;
    this.waves = new WaveHistories(parts);
    this.isLossless = parts.every(({ attenuation }) => attenuation === 1);
    this.step = parts[0]!.step;
    this.announceBreak = announceBreak;
    for (const [index, { conductance, attenuation, initialWave }] of parts.entries()) {
      const own = places[placesOfBranch * index]!;
      numbers.set([conductance[0]!, attenuation, 0, Math.abs(initialWave)], own + atAdmittance);
    }
  }

  breaks(sample: number, first: number, end: number): boolean {
    for (let index = first; index < end; index++) if (this.waves.jumpArrives(index, sample)) return true;
    return false;
  }

  begin(step: Step, first: number, end: number): void {
    if (step.share === 1) this.beginWhole(step.sample, first, end);
    else this.beginWithin(step, first, end);
  }

  finish(step: Step, first: number, end: number): void {
    if (step.share === 1) this.finishWhole(step.sample, first, end);
    else this.finishWithin(first, end);
    if (!this.isLossless) this.loseEnergy(step, first, end);
    if (step.damped && step.share === 1) this.markJumps(step.sample, first, end);
  }

  energyOf(index: number): PartEnergy {
    const { numbers } = this;
    const own = this.places[placesOfBranch * index]!;
    const stored = this.waves.squareUnderway(index, this.newest) * this.step * numbers[own + atAdmittance]!;
    return { supplied: 0, dissipated: numbers[own + atEnergyLost]!, stored };
  }

  /** What arrives when the step is done. */
  private beginWhole(sample: number, first: number, end: number): void {
    const { places, numbers } = this;
    const { waves, rings, rests } = this.waves;
    for (let index = first; index < end; index++) {
      const ring = ringSize * index;
      const begin = rings[ring + atOtherRing]!;
      const mask = rings[ring + atMask]!;
      const late = sample - rings[ring + atWholeSteps]!;
      const rest = rests[index]!;
      const wave = waves[begin + (late & mask)]!;
      const arriving = rest === 0 ? wave : wave + rest * (waves[begin + ((late - 1) & mask)]! - wave);
      const own = places[placesOfBranch * index]!;
      numbers[own + atArriving] = arriving;
      numbers[own + atHistory] = -2 * numbers[own + atAttenuation]! * arriving * numbers[own + atAdmittance]!;
    }
  }

  /** The same within a step. */
  private beginWithin({ sample, share }: Step, first: number, end: number): void {
    const { places, numbers, waves } = this;
    for (let index = first; index < end; index++) {
      const own = places[placesOfBranch * index]!;
      const arriving = waves.arriving(index, sample, share);
      numbers[own + atArriving] = arriving;
      numbers[own + atHistory] = -2 * numbers[own + atAttenuation]! * arriving * numbers[own + atAdmittance]!;
    }
  }

  /** Sends what leaves at a sample. */
  private finishWhole(sample: number, first: number, end: number): void {
    const { places, numbers } = this;
    const { waves, rings } = this.waves;
    this.newest = sample;
    for (let index = first; index < end; index++) {
      const place = placesOfBranch * index;
      const own = places[place]!;
      const voltage =
        numbers[places[place + atFrom]!]! - numbers[places[place + atTo]!]! + numbers[own + atImposed]!;
      const leaving = voltage - numbers[own + atAttenuation]! * numbers[own + atArriving]!;
      const size = Math.abs(leaving);
      const ring = ringSize * index;
      numbers[own + atVoltage] = voltage;
      numbers[own + atCurrent] = numbers[own + atAdmittance]! * voltage + numbers[own + atHistory]!;
      waves[rings[ring + atRing]! + (sample & rings[ring + atMask]!)] = leaving;
      if (size > numbers[own + atLargest]!) numbers[own + atLargest] = size;
    }
  }

  /** Within a step nothing is sent. */
  private finishWithin(first: number, end: number): void {
    const { places, numbers } = this;
    for (let index = first; index < end; index++) {
      const place = placesOfBranch * index;
      const own = places[place]!;
      const voltage =
        numbers[places[place + atFrom]!]! - numbers[places[place + atTo]!]! + numbers[own + atImposed]!;
      numbers[own + atVoltage] = voltage;
      numbers[own + atCurrent] = numbers[own + atAdmittance]! * voltage + numbers[own + atHistory]!;
    }
  }

  private loseEnergy({ beginWeight, endWeight }: Step, first: number, end: number): void {
    const { places, numbers } = this;
    for (let index = first; index < end; index++) {
      const own = places[placesOfBranch * index]!;
      const attenuation = numbers[own + atAttenuation]!;
      const arriving = numbers[own + atArriving]!;
      const lost = (1 - attenuation * attenuation) * (arriving * arriving) * numbers[own + atAdmittance]!;
      numbers[own + atEnergyLost]! += beginWeight * numbers[own + atLost]! + endWeight * lost;
      numbers[own + atLost] = lost;
    }
  }

  private markJumps(sample: number, first: number, end: number): void {
    const { places, numbers, waves } = this;
    for (let index = first; index < end; index++) {
      const largest = numbers[places[placesOfBranch * index]! + atLargest]!;
      const arrival = waves.markJump(index, sample, largest);
      if (arrival !== undefined) this.announceBreak(arrival);
    }
  }
}
