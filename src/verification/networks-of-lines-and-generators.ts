import { doubleExponential } from '../engine/physics/double-exponential.ts';
import { lightningStroke } from '../engine/physics/heidler.ts';
import { piecewiseLinear } from '../engine/physics/piecewise-linear.ts';
import { arrester } from '../engine/transient/elements/arrester.ts';
import { capacitor } from '../engine/transient/elements/capacitor.ts';
import { coupledInductors } from '../engine/transient/elements/coupled-inductors.ts';
import { currentSource } from '../engine/transient/elements/current-source.ts';
import { earthElectrode } from '../engine/transient/elements/earth-electrode.ts';
import { incomingWave } from '../engine/transient/elements/incoming-wave.ts';
import { inductor } from '../engine/transient/elements/inductor.ts';
import { line } from '../engine/transient/elements/line.ts';
import { resistor } from '../engine/transient/elements/resistor.ts';
import { voltageSource } from '../engine/transient/elements/voltage-source.ts';

import {
  type ComparedNetwork,
  current,
  heidlerText,
  powerLaw,
  powerLawText,
  straightSource,
  straightWave,
  voltage,
} from './compared-network.ts';

/** Lines, cables, towers, coupled leads and a generator. */
export const networksOfLinesAndGenerators: readonly ComparedNetwork[] = [
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
