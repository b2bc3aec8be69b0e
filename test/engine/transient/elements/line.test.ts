import { describe, expect, it } from 'vitest';
import { stepWaveform } from '../../../../src/engine/physics/waveform.ts';
import { capacitor } from '../../../../src/engine/transient/elements/capacitor.ts';
import { incomingWave } from '../../../../src/engine/transient/elements/incoming-wave.ts';
import { inductor } from '../../../../src/engine/transient/elements/inductor.ts';
import { line } from '../../../../src/engine/transient/elements/line.ts';
import { resistor } from '../../../../src/engine/transient/elements/resistor.ts';
import { voltageSource } from '../../../../src/engine/transient/elements/voltage-source.ts';
import { simulate } from '../../../../src/engine/transient/simulate.ts';
import { ramp, rectangle } from '../../../support/waveforms.ts';
import { currentInto, shareApart, solved, voltageAt } from '../solved.ts';

const arriving = incomingWave({
  name: 'W',
  node: 'a',
  reference: 'earth',
  surgeImpedance: 400,
  waveform: stepWaveform(100e3),
});
const section = (to = 'b') => line({ name: 'L', from: 'a', to, surgeImpedance: 400, delay: 1e-6 });
const end = (resistance: number) => resistor({ name: 'R', from: 'b', to: 'earth', resistance });
const options = {
  duration: 6e-6,
  step: 20e-9,
  observe: [voltageAt('a'), voltageAt('b'), currentInto('L', 1)],
};

describe('line', () => {
  it('passes a wave on unchanged into its own surge impedance', () => {
    const found = solved([arriving, section(), end(400)], options);
    expect(found.at(1, 0.99e-6)).toBe(0);
    expect(found.at(1, 1.02e-6)).toBeCloseTo(100e3, 6);
    expect(found.at(1, 5e-6)).toBeCloseTo(100e3, 6);
    expect(found.at(0, 5e-6)).toBeCloseTo(100e3, 6);
    expect(found.imbalance).toBeLessThan(1e-12);
  });

  it('doubles the voltage at an open end and stops the current', () => {
    const found = solved([arriving, section()], options);
    expect(found.at(1, 1.02e-6)).toBeCloseTo(200e3, 6);
    expect(found.at(0, 1.9e-6)).toBeCloseTo(100e3, 6);
    expect(found.at(0, 2.04e-6)).toBeCloseTo(200e3, 6);
    expect(found.at(2, 3e-6)).toBeCloseTo(0, 6);
  });

  it('doubles the current into a short circuit', () => {
    const short = voltageSource({ name: 'short', from: 'b', to: 'earth', waveform: stepWaveform(0) });
    const found = solved([arriving, section(), short], {
      ...options,
      observe: [voltageAt('b'), currentInto('short')],
    });
    expect(found.at(0, 3e-6)).toBe(0);
    expect(found.at(1, 0.99e-6)).toBe(0);
    expect(found.at(1, 3e-6)).toBeCloseTo(500, 6);
  });

  it('shortens a pulse to nothing but its echoes on the way (delay no whole number of steps)', () => {
    const pulse = incomingWave({
      name: 'W',
      node: 'a',
      reference: 'earth',
      surgeImpedance: 400,
      waveform: ramp(100e3, 0.4e-6),
    });
    const found = solved([pulse, section(), end(100)], { ...options, step: 17e-9 });
    // Reflection -0.6 of the wave: both pass through a when the reflected front has come back.
    expect(found.at(1, 3e-6)).toBeCloseTo(40e3, 6);
    expect(found.at(0, 3e-6)).toBeCloseTo(40e3, 6);
    expect(found.at(1, 1.2e-6)).toBeCloseTo(20e3, -2);
    expect(found.imbalance).toBeLessThan(2e-3);
  });

  it('gives its charge energy to a matched resistor in twice its travel time', () => {
    // A line charged to V holds C V^2/2 = T V^2/(2 Z); through its surge impedance it falls to half and is empty at 2 T.
    const charged = line({
      name: 'L',
      from: 'b',
      to: 'open',
      surgeImpedance: 50,
      delay: 1e-6,
      initialVoltage: 10e3,
    });
    const found = solved([charged, end(50)], { ...options, observe: [voltageAt('b'), voltageAt('open')] });
    expect(found.at(0, 0.5e-6)).toBeCloseTo(5e3, 6);
    expect(found.at(1, 0.5e-6)).toBeCloseTo(10e3, 6);
    expect(found.at(0, 1.9e-6)).toBeCloseTo(5e3, 6);
    expect(found.at(1, 1.5e-6)).toBeCloseTo(0, 6);
    expect(found.at(0, 2.5e-6)).toBeCloseTo(0, 6);
    const energy = (1e-6 * 10e3 ** 2) / (2 * 50);
    expect(found.balance.supplied).toBeCloseTo(energy, 9);
    expect(shareApart(found.energies.get('R')!.dissipated, energy)).toBeLessThan(1e-9);
    expect(found.energies.get('L')!.stored).toBeCloseTo(0, 9);
  });

  it('ends in a shunt capacitance as v = 2u (1 - exp(-t/ZC))', () => {
    const elements = [
      arriving,
      section(),
      capacitor({ name: 'C', from: 'b', to: 'earth', capacitance: 2e-9 }),
    ];
    const found = solved(elements, { ...options, step: 5e-9 });
    for (const time of [0.1e-6, 0.5e-6, 1e-6, 3e-6]) {
      const exact = 200e3 * (1 - Math.exp(-time / (400 * 2e-9)));
      expect(shareApart(found.at(1, 1e-6 + time), exact), `${time}`).toBeLessThan(1e-4);
    }
    expect(found.imbalance).toBeLessThan(1e-3);
  });

  it('drives a series inductance into a second line as v = 2u Z2/(Z1+Z2) (1 - exp(-(Z1+Z2)t/L))', () => {
    const found = solved(
      [
        arriving,
        section(),
        inductor({ name: 'coil', from: 'b', to: 'c', inductance: 400e-6 }),
        resistor({ name: 'next', from: 'c', to: 'earth', resistance: 100 }),
      ],
      { ...options, step: 5e-9, observe: [voltageAt('c'), voltageAt('b')] },
    );
    for (const time of [0.1e-6, 0.5e-6, 1e-6, 3e-6]) {
      const falling = Math.exp((-500 * time) / 400e-6);
      expect(
        shareApart(found.at(0, 1e-6 + time), 200e3 * (100 / 500) * (1 - falling)),
        `${time}`,
      ).toBeLessThan(1e-4);
      const head = (200e3 * (100 + 400 * falling)) / 500;
      expect(shareApart(found.at(1, 1e-6 + time), head), `${time}`).toBeLessThan(1e-4);
    }
  });

  it('loses on a distortionless line what its attenuation says', () => {
    const lossy = line({ name: 'L', from: 'a', to: 'b', surgeImpedance: 400, delay: 1e-6, attenuation: 0.8 });
    const found = solved([arriving, lossy, end(400)], options);
    expect(found.at(1, 3e-6)).toBeCloseTo(80e3, 6);
    expect(found.energies.get('L')!.dissipated).toBeCloseTo((0.36 * 100e3 ** 2 * 5e-6) / 400, 6);
    expect(found.imbalance).toBeLessThan(1e-12);
  });

  it('carries a pulse with its jumps where the delay is a whole number of steps', () => {
    const pulse = incomingWave({
      name: 'W',
      node: 'a',
      reference: 'earth',
      surgeImpedance: 400,
      waveform: rectangle(100e3, 0.5e-6),
    });
    const found = solved([pulse, section(), end(400)], options);
    expect(found.at(1, 1e-6)).toBe(0);
    expect(found.at(1, 1.02e-6)).toBeCloseTo(100e3, 6);
    expect(found.at(1, 1.5e-6)).toBeCloseTo(100e3, 6);
    expect(found.at(1, 1.52e-6)).toBeCloseTo(0, 6);
  });

  it('refuses a step longer than its delay, with names and numbers', () => {
    const outcome = simulate({ elements: [arriving, section(), end(400)] }, { ...options, step: 1.5e-6 });
    expect(outcome).toEqual({
      ok: false,
      problems: [{ code: 'step-longer-than-delay', element: 'L', delay: 1e-6, step: 1.5e-6 }],
    });
  });

  it('may be exactly one step long', () => {
    const found = solved([arriving, section(), end(400)], { ...options, step: 1e-6 });
    expect(found.records[1]!.values.slice(0, 4)).toEqual(Float64Array.from([0, 0, 100e3, 100e3]));
  });

  it('tells what is wrong with its values', () => {
    const wrong = line({ name: 'L', from: 'a', to: 'b', surgeImpedance: -1, delay: 0, attenuation: 1.1 });
    expect(wrong.faults.map(({ quantity }) => quantity)).toEqual(['surge_impedance', 'delay', 'attenuation']);
  });
});
