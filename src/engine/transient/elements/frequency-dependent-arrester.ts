import { faultsOfPositive, type SurgeElement } from '../element.ts';
import {
  type ArresterCharacteristic,
  characteristicLaw,
  faultsOfCharacteristic,
  highestKnownCurrent,
  referenceConductance,
} from './arrester-characteristic.ts';
import { capacitorPart } from './capacitor.ts';
import { inductorPart } from './inductor.ts';
import { NonlinearPart } from './nonlinear-part.ts';
import { resistorPart } from './resistor.ts';

export interface FrequencyDependentArresterValues {
  readonly name: string;
  /** Line side. */
  readonly from: string;
  /** Earth side. */
  readonly to: string;
  /** A0, next to the line terminal, and A1 behind the filter. */
  readonly firstSection: ArresterCharacteristic;
  readonly secondSection: ArresterCharacteristic;
  readonly filter: ArresterFilter;
}

/** Henries, ohms, farads. */
export interface ArresterFilter {
  /** L0 and R0, side by side between the terminal and the first section. */
  readonly terminalInductance: number;
  readonly terminalResistance: number;
  /** L1 and R1, side by side between the two sections. */
  readonly sectionInductance: number;
  readonly sectionResistance: number;
  /** C, across the first section. */
  readonly capacitance: number;
}

/**
 * Two-section model of IEEE working group 3.4.11 (from memory): a fast front sees the first section, whose voltage is
 * higher; a slow one sees both in parallel.
 */
export function frequencyDependentArrester(values: FrequencyDependentArresterValues): SurgeElement {
  const { name, from, to, firstSection, secondSection, filter } = values;
  const head = `${name}#first section`;
  const tail = `${name}#second section`;
  return {
    name,
    kind: 'frequency-dependent arrester',
    nodes: [from, to],
    innerNodes: [head, tail],
    faults: [
      ...faultsOfPositive({ ...filter }),
      ...faultsOfCharacteristic(firstSection),
      ...faultsOfCharacteristic(secondSection),
    ],
    paths: [
      [from, head],
      [head, tail],
      [head, to],
      [tail, to],
    ],
    mayEndOpen: false,
    // Up to here neither section can carry more than the last current of its table.
    highestCurrent: Math.min(highestKnownCurrent(firstSection), highestKnownCurrent(secondSection)),
    start: (step) => [
      inductorPart({ from, to: head, inductance: filter.terminalInductance }, step),
      resistorPart(from, head, filter.terminalResistance),
      capacitorPart({ from: head, to, capacitance: filter.capacitance }, step),
      new NonlinearPart(head, to, characteristicLaw(firstSection), referenceConductance(firstSection)),
      inductorPart({ from: head, to: tail, inductance: filter.sectionInductance }, step),
      resistorPart(head, tail, filter.sectionResistance),
      new NonlinearPart(tail, to, characteristicLaw(secondSection), referenceConductance(secondSection)),
    ],
  };
}

/**
 * Filter of an arrester from its height (metres) and number of columns: L1 = 15 d/n uH, R1 = 65 d/n ohm,
 * L0 = 0.2 d/n uH, R0 = 100 d/n ohm, C = 100 n/d pF. IEEE working group 3.4.11 (from memory).
 */
export function arresterFilter(height: number, columns: number): ArresterFilter {
  const share = height / columns;
  return {
    terminalInductance: 0.2e-6 * share,
    terminalResistance: 100 * share,
    sectionInductance: 15e-6 * share,
    sectionResistance: 65 * share,
    capacitance: 100e-12 / share,
  };
}

/** Current in amperes, voltage per 1.6th of the residual voltage at 10 kA 8/20. IEEE working group 3.4.11 (from memory). */
const firstSectionTable: readonly (readonly [number, number])[] = [
  [10, 1.4],
  [100, 1.54],
  [1e3, 1.68],
  [2e3, 1.74],
  [4e3, 1.8],
  [6e3, 1.82],
  [8e3, 1.87],
  [10e3, 1.9],
  [12e3, 1.93],
  [14e3, 1.97],
  [16e3, 2.0],
  [18e3, 2.05],
  [20e3, 2.1],
];
const secondSectionTable: readonly (readonly [number, number])[] = [
  [100, 1.23],
  [1e3, 1.36],
  [2e3, 1.43],
  [4e3, 1.48],
  [6e3, 1.5],
  [8e3, 1.53],
  [10e3, 1.55],
  [12e3, 1.56],
  [14e3, 1.58],
  [16e3, 1.59],
  [18e3, 1.6],
  [20e3, 1.61],
];

/** The two sections' characteristics for a residual voltage at 10 kA 8/20, in volts. */
export function arresterSections(
  residualVoltage: number,
): Record<'firstSection' | 'secondSection', ArresterCharacteristic> {
  const scaled = (table: typeof firstSectionTable): ArresterCharacteristic => ({
    points: table.map(([current, perUnit]) => [current, (perUnit * residualVoltage) / 1.6]),
  });
  return { firstSection: scaled(firstSectionTable), secondSection: scaled(secondSectionTable) };
}
