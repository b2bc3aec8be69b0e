import type { Waveform } from '../../physics/waveform.ts';
import {
  atCurrent,
  atFrom,
  atHistory,
  atImposed,
  atState,
  atTo,
  atVoltage,
  type Branch,
  type NetworkNumbers,
  type Part,
  type PartEnergy,
  type PartKind,
  type PartPlace,
  placesOfBranch,
  type RunningParts,
  type Step,
} from '../element.ts';
import { dampedSamples, sourceValue } from '../source-value.ts';

/**
 * A branch that is fed with a course in time: a current, or a wave on a line of that admittance (siemens) of which nothing comes back,
 * v = 2u - Z i.
 */
export class FeedPart implements Part {
  readonly branches: Part['branches'];
  readonly conductance: readonly number[];
  readonly hasHistory = true;
  readonly kind: PartKind = feeds;
  readonly waveform: Waveform;
  readonly damped: ReadonlySet<number>;

  /** A current where the admittance is zero. */
  constructor(branch: Branch, admittance: number, waveform: Waveform, step: number) {
    this.branches = [branch];
    this.conductance = [admittance];
    this.waveform = waveform;
    this.damped = dampedSamples(waveform, step);
  }
}

function feeds(parts: readonly Part[], place: PartPlace): RunningParts {
  return new Feeds(parts as readonly FeedPart[], place);
}

/** What is kept of each: admittance, value of the course, power given and power lost to the line at the last instant, energy given and lost. */
const atAdmittance = atState;
const atFed = atState + 1;
const atGiven = atState + 2;
const atLost = atState + 3;
const atEnergyGiven = atState + 4;
const atEnergyLost = atState + 5;

class Feeds implements RunningParts {
  private readonly parts: readonly FeedPart[];
  private readonly places: Int32Array;
  private readonly numbers: NetworkNumbers;

  constructor(parts: readonly FeedPart[], { places, numbers, announceBreak }: PartPlace) {
    this.parts = parts;
    this.places = places;
    this.numbers = numbers;
    for (const [index, { conductance, damped }] of parts.entries()) {
      numbers[places[placesOfBranch * index]! + atAdmittance] = conductance[0]!;
      damped.forEach(announceBreak);
    }
  }

  breaks(sample: number, first: number, end: number): boolean {
    for (let index = first; index < end; index++) if (this.parts[index]!.damped.has(sample)) return true;
    return false;
  }

  begin(step: Step, first: number, end: number): void {
    const { parts, places, numbers } = this;
    for (let index = first; index < end; index++) {
      const fed = sourceValue(parts[index]!.waveform, step.end, 2 * step.endWeight);
      const own = places[placesOfBranch * index]!;
      const admittance = numbers[own + atAdmittance]!;
      numbers[own + atFed] = fed;
      numbers[own + atHistory] = admittance === 0 ? fed : -2 * fed * admittance;
    }
  }

  finish({ beginWeight, endWeight }: Step, first: number, end: number): void {
    const { places, numbers } = this;
    for (let index = first; index < end; index++) {
      const place = placesOfBranch * index;
      const own = places[place]!;
      const voltage =
        numbers[places[place + atFrom]!]! - numbers[places[place + atTo]!]! + numbers[own + atImposed]!;
      const admittance = numbers[own + atAdmittance]!;
      const fed = numbers[own + atFed]!;
      const reflected = voltage - fed;
      // The wave's own power counts as given, what is reflected into the line as lost to it.
      const given = admittance === 0 ? -voltage * fed : fed * fed * admittance;
      const lost = reflected * reflected * admittance;
      numbers[own + atVoltage] = voltage;
      numbers[own + atCurrent] = admittance * voltage + numbers[own + atHistory]!;
      numbers[own + atEnergyGiven]! += beginWeight * numbers[own + atGiven]! + endWeight * given;
      numbers[own + atEnergyLost]! += beginWeight * numbers[own + atLost]! + endWeight * lost;
      numbers[own + atGiven] = given;
      numbers[own + atLost] = lost;
    }
  }

  energyOf(index: number): PartEnergy {
    const own = this.places[placesOfBranch * index]!;
    const [supplied, dissipated] = [this.numbers[own + atEnergyGiven]!, this.numbers[own + atEnergyLost]!];
    return { supplied, dissipated, stored: 0 };
  }
}
