import { doubleExponential } from '../engine/physics/double-exponential.ts';
import { heidler, lightningStrokes } from '../engine/physics/heidler.ts';
import { ramp } from '../engine/physics/piecewise-linear.ts';
import { arrester } from '../engine/transient/elements/arrester.ts';
import { capacitor } from '../engine/transient/elements/capacitor.ts';
import { currentSource } from '../engine/transient/elements/current-source.ts';
import { earthElectrode } from '../engine/transient/elements/earth-electrode.ts';
import {
  arresterFilter,
  arresterSections,
  frequencyDependentArrester,
} from '../engine/transient/elements/frequency-dependent-arrester.ts';
import { incomingWave } from '../engine/transient/elements/incoming-wave.ts';
import { inductor } from '../engine/transient/elements/inductor.ts';
import { line } from '../engine/transient/elements/line.ts';
import { resistor } from '../engine/transient/elements/resistor.ts';
import {
  type ComparedNetwork,
  current,
  heidlerText,
  powerLaw,
  powerLawText,
  sectionText,
  straightSource,
  straightWave,
  tablePoints,
  tableText,
  voltage,
} from './compared-network.ts';

/** Arresters, leads, equipment and earths. */
export const networksAtTerminals: readonly ComparedNetwork[] = [
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
];
