import { lightningStrokes } from '../engine/physics/heidler.ts';
import { triangle } from '../engine/physics/piecewise-linear.ts';
import type { SurgeElement } from '../engine/transient/element.ts';
import type { CharacteristicPoint } from '../engine/transient/elements/arrester-characteristic.ts';
import { arresterSections } from '../engine/transient/elements/frequency-dependent-arrester.ts';
import type { Observation } from '../engine/transient/network.ts';

/** One network in the engine's elements and, written by hand, as a netlist of the circuit simulator. */
export interface ComparedNetwork {
  readonly name: string;
  readonly elements: readonly SurgeElement[];
  readonly netlist: readonly string[];
  /** Seconds. */
  readonly duration: number;
  readonly step: number;
  /** What is compared: an observation with the simulator's vector, or the difference of two. */
  readonly compared: readonly { observation: Observation; plus: string; minus?: string }[];
}

export const voltage = (node: string, reference?: string): Observation =>
  reference === undefined ? { kind: 'voltage', node } : { kind: 'voltage', node, reference };
export const current = (element: string): Observation => ({ kind: 'current', element });

/** A 24 kV-class arrester as a power law: 10 kA at 80 kV, exponent 25. */
export const powerLaw = { coefficient: 1e4 / 80e3 ** 25, exponent: 25 };
export const powerLawText = (node: string): string => `sgn(${node})*1e4*pow(abs(${node})/80k,25)`;

export const tablePoints: readonly CharacteristicPoint[] = [
  [1e-3, 42e3],
  [1, 52e3],
  [100, 60e3],
  [1e3, 68e3],
  [5e3, 76e3],
  [10e3, 81e3],
  [20e3, 90e3],
  [40e3, 104e3],
];

/** The same table as a nested expression: straight to the first point, power laws between the others. */
export function tableText(node: string, points: readonly CharacteristicPoint[]): string {
  const size = `abs(${node})`;
  let text = '';
  for (let index = points.length - 2; index >= 0; index--) {
    const [current, voltage] = points[index]!;
    const [nextCurrent, nextVoltage] = points[index + 1]!;
    const exponent = Math.log(nextCurrent / current) / Math.log(nextVoltage / voltage);
    const law = `${current}*pow(${size}/${voltage},${exponent})`;
    text = text === '' ? law : `(${size} < ${nextVoltage} ? ${law} : ${text})`;
  }
  const [current, voltage] = points[0]!;
  return `sgn(${node})*(${size} < ${voltage} ? ${current / voltage}*${size} : ${text})`;
}

export function heidlerText(peak: number, stroke: keyof typeof lightningStrokes): string {
  const { correction, frontConstant, tailConstant } = lightningStrokes[stroke];
  const x = `pow(time/${frontConstant},10)`;
  return `${peak / correction}*${x}/(1+${x})*exp(-time/${tailConstant})`;
}

/** 300 kV with a front of 1.2 us and half of it after 50 us, as a straight-sided wave and as its doubled source. */
export const straightWave = triangle(300e3, 1.2e-6, 50e-6);
export const straightSource = 'v1 s 0 pwl(0 0 1.2u 600k 98.8u 0)';

export function sectionText(section: 'firstSection' | 'secondSection', node: string): string {
  const characteristic = arresterSections(80e3)[section];
  return 'points' in characteristic ? tableText(node, characteristic.points) : '';
}
