import { describe, expect, it } from 'vitest';
import { stepWaveform } from '../../../../src/engine/physics/waveform.ts';
import { capacitor } from '../../../../src/engine/transient/elements/capacitor.ts';
import { coupledInductors } from '../../../../src/engine/transient/elements/coupled-inductors.ts';
import { currentSource } from '../../../../src/engine/transient/elements/current-source.ts';
import { inductor } from '../../../../src/engine/transient/elements/inductor.ts';
import { resistor } from '../../../../src/engine/transient/elements/resistor.ts';
import { voltageSource } from '../../../../src/engine/transient/elements/voltage-source.ts';
import { ramp, sine } from '../../../support/waveforms.ts';
import { currentInto, shareApart, solved, voltageAt } from '../solved.ts';

const source = voltageSource({ name: 'V', from: 's', to: 'earth', waveform: stepWaveform(100) });
const series = resistor({ name: 'R', from: 's', to: 'a', resistance: 10 });

describe('lumped elements against closed solutions', () => {
  it('charges R and L as i = V/R (1 - exp(-Rt/L))', () => {
    const elements = [source, series, inductor({ name: 'L', from: 'a', to: 'earth', inductance: 0.1 })];
    const found = solved(elements, {
      duration: 0.05,
      step: 5e-5,
      observe: [currentInto('L'), currentInto('V')],
    });
    for (const time of [1e-4, 1e-3, 1e-2, 5e-2]) {
      const exact = 10 * (1 - Math.exp(-100 * time));
      expect(shareApart(found.at(0, time), exact), `${time}`).toBeLessThan(
        3e-3 * Math.exp(-100 * time) + 1e-5,
      );
      expect(found.at(1, time)).toBeCloseTo(-found.at(0, time), 9);
    }
    expect(found.imbalance).toBeLessThan(1e-5);
  });

  it('charges R and C as v = V (1 - exp(-t/RC)), half the energy lost', () => {
    const elements = [source, series, capacitor({ name: 'C', from: 'a', to: 'earth', capacitance: 1e-6 })];
    const found = solved(elements, { duration: 150e-6, step: 50e-9, observe: [voltageAt('a')] });
    for (const time of [1e-6, 10e-6, 50e-6]) {
      expect(shareApart(found.at(0, time), 100 * (1 - Math.exp(-time / 10e-6)))).toBeLessThan(1e-4);
    }
    const half = 0.5 * 1e-6 * 100 ** 2;
    expect(shareApart(found.energies.get('R')!.dissipated, half)).toBeLessThan(1e-3);
    expect(shareApart(found.energies.get('C')!.stored, half)).toBeLessThan(1e-4);
    expect(found.imbalance).toBeLessThan(2e-3);
  });

  it('halves the error by four when the step is halved (second order)', () => {
    const elements = [
      voltageSource({ name: 'V', from: 's', to: 'earth', waveform: sine(100, 5e3) }),
      series,
      capacitor({ name: 'C', from: 'a', to: 'earth', capacitance: 1e-6 }),
    ];
    const rate = 2 * Math.PI * 5e3;
    const product = rate * 10e-6;
    const exact = (time: number): number =>
      (100 / (1 + product ** 2)) *
      (Math.sin(rate * time) - product * Math.cos(rate * time) + product * Math.exp(-time / 10e-6));
    const errors = [2e-6, 1e-6, 0.5e-6].map((step) => {
      const found = solved(elements, { duration: 200e-6, step, observe: [voltageAt('a')] });
      return Math.max(...[50e-6, 100e-6, 130e-6].map((time) => Math.abs(found.at(0, time) - exact(time))));
    });
    expect(errors[0]! / errors[1]!).toBeGreaterThan(3.5);
    expect(errors[1]! / errors[2]!).toBeGreaterThan(3.5);
  });

  it('does not ring where a jump meets an inductance that a source feeds', () => {
    // The voltage over L of a current that stops jumping must be zero at once; the bare trapezoidal rule alternates.
    const elements = [
      currentSource({ name: 'I', from: 'earth', to: 'a', waveform: stepWaveform(10) }),
      inductor({ name: 'L', from: 'a', to: 'earth', inductance: 1e-6 }),
    ];
    const found = solved(elements, {
      duration: 1e-6,
      step: 10e-9,
      observe: [voltageAt('a')],
      energyLimit: 2,
    });
    expect(found.at(0, 20e-9)).toBeCloseTo(0, 6);
    expect(found.at(0, 30e-9)).toBeCloseTo(0, 6);
  });

  it('oscillates as v = V cos(wt) from a charged capacitor over an inductor', () => {
    const elements = [
      capacitor({ name: 'C', from: 'a', to: 'earth', capacitance: 1e-6, initialVoltage: 1000 }),
      inductor({ name: 'L', from: 'a', to: 'earth', inductance: 1e-6 }),
    ];
    const found = solved(elements, {
      duration: 20e-6,
      step: 5e-9,
      observe: [voltageAt('a'), currentInto('L')],
    });
    for (const time of [1e-6, 3e-6, 10e-6, 19e-6]) {
      expect(Math.abs(found.at(0, time) - 1000 * Math.cos(time / 1e-6))).toBeLessThan(4);
      expect(Math.abs(found.at(1, time) - 1000 * Math.sin(time / 1e-6))).toBeLessThan(4);
    }
    expect(found.balance.supplied).toBeCloseTo(0.5, 9);
    expect(found.imbalance).toBeLessThan(3e-3);
  });

  it('lets a coil run on with its initial current', () => {
    const elements = [
      inductor({ name: 'L', from: 'a', to: 'earth', inductance: 1e-3, initialCurrent: 5 }),
      resistor({ name: 'R', from: 'a', to: 'earth', resistance: 10 }),
    ];
    const found = solved(elements, {
      duration: 1e-3,
      step: 1e-6,
      observe: [currentInto('L'), voltageAt('a')],
    });
    expect(shareApart(found.at(0, 100e-6), 5 * Math.exp(-1))).toBeLessThan(1e-4);
    expect(shareApart(found.at(1, 100e-6), -50 * Math.exp(-1))).toBeLessThan(1e-4);
  });

  it('drops L di/dt over a lead', () => {
    const elements = [
      currentSource({ name: 'I', from: 'earth', to: 'a', waveform: ramp(10e3, 1e-6) }),
      inductor({ name: 'lead', from: 'a', to: 'earth', inductance: 7.5e-6 }),
    ];
    const found = solved(elements, { duration: 2e-6, step: 10e-9, observe: [voltageAt('a')] });
    for (const time of [10e-9, 20e-9, 30e-9, 0.5e-6, 1e-6]) {
      expect(shareApart(found.at(0, time), 75e3), `${time}`).toBeLessThan(1e-6);
    }
    expect(found.at(0, 1.01e-6)).toBeCloseTo(0, 3);
    expect(found.at(0, 1.5e-6)).toBeCloseTo(0, 3);
  });

  it('does not ring after a corner that lies inside a step', () => {
    const elements = [
      currentSource({ name: 'I', from: 'earth', to: 'a', waveform: ramp(10e3, 1e-6) }),
      inductor({ name: 'lead', from: 'a', to: 'earth', inductance: 7.5e-6 }),
    ];
    const found = solved(elements, {
      duration: 2e-6,
      step: 13e-9,
      observe: [voltageAt('a')],
      energyLimit: 0.1,
    });
    // The ramp ends in step 77: from the step after the next one on the current stands.
    for (const step of [79, 80, 81, 100]) expect(found.records[0]!.values[step]).toBeCloseTo(0, 3);
  });

  it('adds twice the mutual inductance where two leads in series run alongside', () => {
    const pair = (mutualInductance: number) => [
      currentSource({ name: 'I', from: 'earth', to: 'a', waveform: ramp(1e3, 1e-6) }),
      coupledInductors({
        name: 'M',
        firstFrom: 'a',
        firstTo: 'b',
        secondFrom: 'b',
        secondTo: 'c',
        firstInductance: 3e-6,
        secondInductance: 2e-6,
        mutualInductance,
      }),
      resistor({ name: 'R', from: 'c', to: 'earth', resistance: 1 }),
    ];
    const options = { duration: 1e-6, step: 10e-9, observe: [voltageAt('a', 'c')] };
    const alongside = solved(pair(1e-6), options);
    const against = solved(pair(-1e-6), options);
    expect(shareApart(alongside.at(0, 0.7e-6), 7e3)).toBeLessThan(1e-6);
    expect(shareApart(against.at(0, 0.7e-6), 3e3)).toBeLessThan(1e-6);
    expect(shareApart(alongside.energies.get('M')!.stored, 0.5 * 7e-6 * 1e6)).toBeLessThan(1e-6);
  });

  it('transforms an open winding as v2 = M/L1 v1', () => {
    const found = solved(
      [
        source,
        series,
        coupledInductors({
          name: 'M',
          firstFrom: 'a',
          firstTo: 'earth',
          secondFrom: 'b',
          secondTo: 'earth',
          firstInductance: 4e-3,
          secondInductance: 1e-3,
          mutualInductance: 1.5e-3,
        }),
        resistor({ name: 'meter', from: 'b', to: 'earth', resistance: 1e9 }),
      ],
      { duration: 1e-4, step: 1e-6, observe: [voltageAt('a'), voltageAt('b')] },
    );
    expect(shareApart(found.at(1, 50e-6) / found.at(0, 50e-6), 1.5 / 4)).toBeLessThan(1e-6);
  });
});
