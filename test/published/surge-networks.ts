import { doubleExponential } from '../../src/engine/physics/double-exponential.ts';
import { heidler, lightningStroke, lightningStrokes } from '../../src/engine/physics/heidler.ts';
import { piecewiseLinear, ramp, triangle } from '../../src/engine/physics/piecewise-linear.ts';
import type { SurgeElement } from '../../src/engine/transient/element.ts';
import { arrester } from '../../src/engine/transient/elements/arrester.ts';
import type { CharacteristicPoint } from '../../src/engine/transient/elements/arrester-characteristic.ts';
import { capacitor } from '../../src/engine/transient/elements/capacitor.ts';
import { coupledInductors } from '../../src/engine/transient/elements/coupled-inductors.ts';
import { currentSource } from '../../src/engine/transient/elements/current-source.ts';
import { earthElectrode } from '../../src/engine/transient/elements/earth-electrode.ts';
import {
  arresterFilter,
  arresterSections,
  frequencyDependentArrester,
} from '../../src/engine/transient/elements/frequency-dependent-arrester.ts';
import { incomingWave } from '../../src/engine/transient/elements/incoming-wave.ts';
import { inductor } from '../../src/engine/transient/elements/inductor.ts';
import { line } from '../../src/engine/transient/elements/line.ts';
import { resistor } from '../../src/engine/transient/elements/resistor.ts';
import { voltageSource } from '../../src/engine/transient/elements/voltage-source.ts';
import type { Observation } from '../../src/engine/transient/network.ts';

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

const voltage = (node: string, reference?: string): Observation =>
  reference === undefined ? { kind: 'voltage', node } : { kind: 'voltage', node, reference };
const current = (element: string): Observation => ({ kind: 'current', element });

/** A 24 kV-class arrester as a power law: 10 kA at 80 kV, exponent 25. */
const powerLaw = { coefficient: 1e4 / 80e3 ** 25, exponent: 25 };
const powerLawText = (node: string): string => `sgn(${node})*1e4*pow(abs(${node})/80k,25)`;

const tablePoints: readonly CharacteristicPoint[] = [
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
function tableText(node: string, points: readonly CharacteristicPoint[]): string {
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

function heidlerText(peak: number, stroke: keyof typeof lightningStrokes): string {
  const { correction, frontConstant, tailConstant } = lightningStrokes[stroke];
  const x = `pow(time/${frontConstant},10)`;
  return `${peak / correction}*${x}/(1+${x})*exp(-time/${tailConstant})`;
}

/** 300 kV with a front of 1.2 us and half of it after 50 us, as a straight-sided wave and as its doubled source. */
const straightWave = triangle(300e3, 1.2e-6, 50e-6);
const straightSource = 'v1 s 0 pwl(0 0 1.2u 600k 98.8u 0)';

export const comparedNetworks: readonly ComparedNetwork[] = [
  {
    name: 'line with an open end',
    elements: [
      incomingWave({ name: 'W', node: 'a', reference: 'earth', surgeImpedance: 400, waveform: straightWave }),
      line({ name: 'L', from: 'a', to: 'b', surgeImpedance: 300, delay: 0.7e-6 }),
    ],
    netlist: [straightSource, 'r1 s a 400', 't1 a 0 b 0 z0=300 td=0.7u', 'r2 b 0 1e12'],
    duration: 12e-6,
    step: 10e-9,
    compared: [
      { observation: voltage('a'), plus: 'v(a)' },
      { observation: voltage('b'), plus: 'v(b)' },
    ],
  },
  {
    name: 'arrester at the end of a line',
    elements: [
      incomingWave({ name: 'W', node: 'a', reference: 'earth', surgeImpedance: 400, waveform: straightWave }),
      line({ name: 'L', from: 'a', to: 'b', surgeImpedance: 400, delay: 0.3e-6 }),
      arrester({ name: 'A', from: 'b', to: 'earth', characteristic: powerLaw }),
    ],
    netlist: [
      straightSource,
      'r1 s a 400',
      't1 a 0 b 0 z0=400 td=0.3u',
      'vm b m 0',
      `b1 m 0 i=${powerLawText('v(m)')}`,
    ],
    duration: 10e-6,
    step: 5e-9,
    compared: [
      { observation: voltage('b'), plus: 'v(b)' },
      { observation: current('A'), plus: 'i(vm)' },
    ],
  },
  {
    name: 'transformer behind 24 m of line, arrester with a lead before it',
    elements: [
      incomingWave({
        name: 'W',
        node: 'a',
        reference: 'earth',
        surgeImpedance: 450,
        waveform: ramp(400e3, 0.8e-6),
      }),
      inductor({ name: 'lead', from: 'a', to: 'h', inductance: 2.5e-6 }),
      arrester({ name: 'A', from: 'h', to: 'earth', characteristic: powerLaw }),
      line({ name: 'L', from: 'a', to: 't', surgeImpedance: 400, delay: 80e-9 }),
      capacitor({ name: 'T', from: 't', to: 'earth', capacitance: 2e-9 }),
    ],
    netlist: [
      'v1 s 0 pwl(0 0 0.8u 800k)',
      'r1 s a 450',
      'l1 a h 2.5u',
      'vm h m 0',
      `b1 m 0 i=${powerLawText('v(m)')}`,
      't1 a 0 t 0 z0=400 td=80n',
      'c1 t 0 2n',
    ],
    duration: 8e-6,
    step: 2e-9,
    compared: [
      { observation: voltage('t'), plus: 'v(t)' },
      { observation: voltage('a'), plus: 'v(a)' },
      { observation: current('A'), plus: 'i(vm)' },
    ],
  },
  {
    name: 'pole transformer, arrester and tank on one earth with long leads',
    elements: [
      incomingWave({ name: 'W', node: 'a', reference: 'earth', surgeImpedance: 400, waveform: straightWave }),
      line({ name: 'L', from: 'a', to: 'p', surgeImpedance: 400, delay: 0.2e-6 }),
      inductor({ name: 'line lead', from: 'p', to: 'h', inductance: 1.8e-6 }),
      arrester({ name: 'A', from: 'h', to: 'g', characteristic: { points: tablePoints } }),
      inductor({ name: 'earth lead', from: 'g', to: 'e', inductance: 7.5e-6 }),
      resistor({ name: 'E', from: 'e', to: 'earth', resistance: 12 }),
      capacitor({ name: 'T', from: 'p', to: 'e', capacitance: 0.6e-9 }),
    ],
    netlist: [
      straightSource,
      'r1 s a 400',
      't1 a 0 p 0 z0=400 td=0.2u',
      'l1 p h 1.8u',
      'vm h m 0',
      `b1 m g i=${tableText('(v(m)-v(g))', tablePoints)}`,
      'l2 g e 7.5u',
      're e 0 12',
      'c1 p e 0.6n',
    ],
    duration: 8e-6,
    step: 2e-9,
    compared: [
      { observation: voltage('p', 'e'), plus: 'v(p)', minus: 'v(e)' },
      { observation: voltage('e'), plus: 'v(e)' },
      { observation: current('A'), plus: 'i(vm)' },
    ],
  },
  {
    name: 'pole transformer, arrester and tank on separate earths, soil ionising',
    elements: [
      currentSource({
        name: 'S',
        from: 'earth',
        to: 'a',
        waveform: heidler(20e3, lightningStrokes['1/200']),
      }),
      resistor({ name: 'far line', from: 'a', to: 'earth', resistance: 200 }),
      line({ name: 'L', from: 'a', to: 'p', surgeImpedance: 400, delay: 0.1e-6 }),
      inductor({ name: 'line lead', from: 'p', to: 'h', inductance: 1.5e-6 }),
      arrester({ name: 'A', from: 'h', to: 'g', characteristic: { points: tablePoints } }),
      inductor({ name: 'earth lead', from: 'g', to: 'e', inductance: 6e-6 }),
      earthElectrode({ name: 'E1', node: 'e', reference: 'earth', resistance: 30, ionisationCurrent: 3e3 }),
      capacitor({ name: 'T', from: 'p', to: 'tank', capacitance: 0.8e-9 }),
      inductor({ name: 'tank lead', from: 'tank', to: 'f', inductance: 5e-6 }),
      earthElectrode({ name: 'E2', node: 'f', reference: 'earth', resistance: 10, ionisationCurrent: 9e3 }),
    ],
    netlist: [
      `b0 0 a i=${heidlerText(20e3, '1/200')}`,
      'r1 a 0 200',
      't1 a 0 p 0 z0=400 td=0.1u',
      'l1 p h 1.5u',
      'vm h m 0',
      `b1 m g i=${tableText('(v(m)-v(g))', tablePoints)}`,
      'l2 g e 6u',
      've e e1 0',
      'be e1 0 v=30*i(ve)/sqrt(1+abs(i(ve))/3k)',
      'c1 p tank 0.8n',
      'l3 tank f 5u',
      'vf f f1 0',
      'bf f1 0 v=10*i(vf)/sqrt(1+abs(i(vf))/9k)',
    ],
    duration: 6e-6,
    step: 1e-9,
    compared: [
      { observation: voltage('p', 'tank'), plus: 'v(p)', minus: 'v(tank)' },
      { observation: voltage('e'), plus: 'v(e)' },
      { observation: current('A'), plus: 'i(vm)' },
    ],
  },
  {
    name: 'arrester across the terminals, base bonded to the tank',
    elements: [
      incomingWave({ name: 'W', node: 'a', reference: 'earth', surgeImpedance: 400, waveform: straightWave }),
      line({ name: 'L', from: 'a', to: 'p', surgeImpedance: 400, delay: 0.2e-6 }),
      inductor({ name: 'height', from: 'p', to: 'h', inductance: 0.4e-6 }),
      arrester({ name: 'A', from: 'h', to: 'tank', characteristic: powerLaw }),
      inductor({ name: 'tail', from: 'p', to: 't', inductance: 0.5e-6 }),
      capacitor({ name: 'T', from: 't', to: 'tank', capacitance: 1.2e-9 }),
      inductor({ name: 'earth conductor', from: 'tank', to: 'e', inductance: 10e-6 }),
      resistor({ name: 'E', from: 'e', to: 'earth', resistance: 8 }),
    ],
    netlist: [
      straightSource,
      'r1 s a 400',
      't1 a 0 p 0 z0=400 td=0.2u',
      'l1 p h 0.4u',
      `b1 h tank i=${powerLawText('(v(h)-v(tank))')}`,
      'l2 p t 0.5u',
      'c1 t tank 1.2n',
      'l3 tank e 10u',
      're e 0 8',
    ],
    duration: 6e-6,
    step: 1e-9,
    compared: [
      { observation: voltage('t', 'tank'), plus: 'v(t)', minus: 'v(tank)' },
      { observation: voltage('tank'), plus: 'v(tank)' },
    ],
  },
  {
    name: 'frequency-dependent arrester under a fast current',
    elements: [
      currentSource({ name: 'S', from: 'earth', to: 'a', waveform: doubleExponential(14e3, 5e4, 2e6) }),
      frequencyDependentArrester({
        name: 'A',
        from: 'a',
        to: 'earth',
        ...arresterSections(80e3),
        filter: arresterFilter(0.4, 1),
      }),
    ],
    netlist: [
      'b0 0 a i=14k*(exp(-5e4*time)-exp(-2e6*time))',
      'l0 a h 0.08u',
      'r0 a h 40',
      'c0 h 0 250p',
      `ba h 0 i=${sectionText('firstSection', 'v(h)')}`,
      'l1 h k 6u',
      'r1 h k 26',
      `bb k 0 i=${sectionText('secondSection', 'v(k)')}`,
    ],
    duration: 5e-6,
    step: 1e-9,
    compared: [{ observation: voltage('a'), plus: 'v(a)' }],
  },
  {
    name: 'cable with an open end behind a riser arrester',
    elements: [
      incomingWave({ name: 'W', node: 'a', reference: 'earth', surgeImpedance: 400, waveform: straightWave }),
      arrester({ name: 'A', from: 'a', to: 'earth', characteristic: powerLaw }),
      line({ name: 'K', from: 'a', to: 'b', surgeImpedance: 35, delay: 1.7e-6 }),
    ],
    netlist: [
      straightSource,
      'r1 s a 400',
      'vm a m 0',
      `b1 m 0 i=${powerLawText('v(m)')}`,
      't1 a 0 b 0 z0=35 td=1.7u',
      'r2 b 0 1e12',
    ],
    duration: 30e-6,
    step: 10e-9,
    compared: [
      { observation: voltage('b'), plus: 'v(b)' },
      { observation: current('A'), plus: 'i(vm)' },
    ],
  },
  {
    name: 'stroke between two poles with arresters, soil ionising',
    elements: [
      currentSource({ name: 'S', from: 'earth', to: 'm', waveform: lightningStroke('0.25/100', 12e3) }),
      line({ name: 'L1', from: 'm', to: 'p', surgeImpedance: 450, delay: 0.12e-6 }),
      line({ name: 'L2', from: 'm', to: 'q', surgeImpedance: 450, delay: 0.17e-6 }),
      resistor({ name: 'far p', from: 'p', to: 'earth', resistance: 450 }),
      resistor({ name: 'far q', from: 'q', to: 'earth', resistance: 450 }),
      arrester({ name: 'A1', from: 'p', to: 'g', characteristic: powerLaw }),
      earthElectrode({ name: 'E1', node: 'g', reference: 'earth', resistance: 50, ionisationCurrent: 2e3 }),
      arrester({ name: 'A2', from: 'q', to: 'h', characteristic: powerLaw }),
      inductor({ name: 'down lead', from: 'h', to: 'k', inductance: 9e-6 }),
      earthElectrode({ name: 'E2', node: 'k', reference: 'earth', resistance: 20, ionisationCurrent: 5e3 }),
    ],
    netlist: [
      `b0 0 m i=${heidlerText(12e3, '0.25/100')}`,
      't1 m 0 p 0 z0=450 td=0.12u',
      't2 m 0 q 0 z0=450 td=0.17u',
      'r1 p 0 450',
      'r2 q 0 450',
      `b1 p g i=${powerLawText('(v(p)-v(g))')}`,
      've g g1 0',
      'be g1 0 v=50*i(ve)/sqrt(1+abs(i(ve))/2k)',
      `b2 q h i=${powerLawText('(v(q)-v(h))')}`,
      'l1 h k 9u',
      'vf k k1 0',
      'bf k1 0 v=20*i(vf)/sqrt(1+abs(i(vf))/5k)',
    ],
    duration: 4e-6,
    step: 1e-9,
    compared: [
      { observation: voltage('m'), plus: 'v(m)' },
      { observation: voltage('p'), plus: 'v(p)' },
      { observation: voltage('q'), plus: 'v(q)' },
      { observation: current('E1'), plus: 'i(ve)' },
      { observation: current('E2'), plus: 'i(vf)' },
    ],
  },
  {
    name: 'charged capacitor discharged into an arrester (impulse current generator)',
    elements: [
      capacitor({ name: 'C', from: 'c', to: 'earth', capacitance: 8e-6, initialVoltage: 25e3 }),
      inductor({ name: 'L', from: 'c', to: 'l', inductance: 8e-6 }),
      resistor({ name: 'R', from: 'l', to: 'a', resistance: 1.4 }),
      arrester({
        name: 'A',
        from: 'a',
        to: 'earth',
        characteristic: { coefficient: 1e4 / 9e3 ** 20, exponent: 20 },
      }),
    ],
    netlist: [
      'c1 c 0 8u ic=25k',
      'l1 c l 8u ic=0',
      'r1 l a 1.4',
      'vm a m 0',
      'b1 m 0 i=sgn(v(m))*1e4*pow(abs(v(m))/9k,20)',
      'rp m 0 1e8',
    ],
    duration: 40e-6,
    step: 10e-9,
    compared: [
      { observation: voltage('c'), plus: 'v(c)' },
      { observation: current('A'), plus: 'i(vm)' },
    ],
  },
  {
    name: 'two leads with mutual inductance',
    elements: [
      currentSource({ name: 'S', from: 'earth', to: 'a', waveform: doubleExponential(10e3, 3e4, 1e6) }),
      coupledInductors({
        name: 'M',
        firstFrom: 'a',
        firstTo: 'b',
        secondFrom: 'c',
        secondTo: 'd',
        firstInductance: 8e-6,
        secondInductance: 5e-6,
        mutualInductance: 3e-6,
      }),
      resistor({ name: 'E', from: 'b', to: 'earth', resistance: 10 }),
      resistor({ name: 'burden', from: 'c', to: 'earth', resistance: 50 }),
      capacitor({ name: 'C', from: 'd', to: 'earth', capacitance: 20e-9 }),
      resistor({ name: 'shunt', from: 'a', to: 'earth', resistance: 100 }),
    ],
    netlist: [
      'b0 0 a i=10k*(exp(-3e4*time)-exp(-1e6*time))',
      'l1 a b 8u',
      'l2 c d 5u',
      'k1 l1 l2 0.474341649025256',
      'r1 b 0 10',
      'r2 c 0 50',
      'c1 d 0 20n',
      'r3 a 0 100',
    ],
    duration: 20e-6,
    step: 5e-9,
    compared: [
      { observation: voltage('a'), plus: 'v(a)' },
      { observation: voltage('c'), plus: 'v(c)' },
      { observation: voltage('d'), plus: 'v(d)' },
    ],
  },
  {
    name: 'stroke to the top of a tower of three sections with an earth wire',
    elements: [
      currentSource({
        name: 'S',
        from: 'earth',
        to: 'top',
        waveform: piecewiseLinear([
          [0, 0],
          [1e-6, 12e3],
          [2e-6, 40e3],
          [80e-6, 20e3],
        ]),
      }),
      resistor({ name: 'earth wire', from: 'top', to: 'earth', resistance: 260 }),
      line({ name: 'T1', from: 'top', to: 'u', surgeImpedance: 180, delay: 13e-9 }),
      line({ name: 'T2', from: 'u', to: 'w', surgeImpedance: 150, delay: 19e-9 }),
      line({ name: 'T3', from: 'w', to: 'foot', surgeImpedance: 120, delay: 40e-9 }),
      earthElectrode({ name: 'E', node: 'foot', reference: 'earth', resistance: 40, ionisationCurrent: 8e3 }),
      line({ name: 'span', from: 'top', to: 'far', surgeImpedance: 500, delay: 1e-6 }),
      resistor({ name: 'next tower', from: 'far', to: 'earth', resistance: 25 }),
    ],
    netlist: [
      'i0 0 top pwl(0 0 1u 12k 2u 40k 80u 20k)',
      'r0 top 0 260',
      't1 top 0 u 0 z0=180 td=13n',
      't2 u 0 w 0 z0=150 td=19n',
      't3 w 0 foot 0 z0=120 td=40n',
      've foot f 0',
      'be f 0 v=40*i(ve)/sqrt(1+abs(i(ve))/8k)',
      't4 top 0 far 0 z0=500 td=1u',
      'r1 far 0 25',
    ],
    duration: 8e-6,
    step: 1e-9,
    compared: [
      { observation: voltage('top'), plus: 'v(top)' },
      { observation: voltage('foot'), plus: 'v(foot)' },
      { observation: current('E'), plus: 'i(ve)' },
    ],
  },
  {
    name: 'cable whose sheath rises with a local earth, source between two nodes',
    elements: [
      voltageSource({ name: 'V', from: 's', to: 'b', waveform: doubleExponential(100e3, 2e4, 3e6) }),
      resistor({ name: 'R', from: 's', to: 'a', resistance: 20 }),
      resistor({ name: 'B', from: 'b', to: 'earth', resistance: 15 }),
      line({
        name: 'K',
        from: 'a',
        to: 'c',
        fromReference: 'b',
        toReference: 'g',
        surgeImpedance: 40,
        delay: 0.45e-6,
      }),
      inductor({ name: 'sheath lead', from: 'g', to: 'earth', inductance: 3e-6 }),
      resistor({ name: 'load', from: 'c', to: 'earth', resistance: 90 }),
    ],
    netlist: [
      'b0 s b v=100k*(exp(-2e4*time)-exp(-3e6*time))',
      'r1 s a 20',
      'r2 b 0 15',
      't1 a b c g z0=40 td=0.45u',
      'l1 g 0 3u',
      'r3 c 0 90',
    ],
    duration: 12e-6,
    step: 1e-9,
    compared: [
      { observation: voltage('c'), plus: 'v(c)' },
      { observation: voltage('g'), plus: 'v(g)' },
    ],
  },
];

function sectionText(section: 'firstSection' | 'secondSection', node: string): string {
  const characteristic = arresterSections(80e3)[section];
  return 'points' in characteristic ? tableText(node, characteristic.points) : '';
}
