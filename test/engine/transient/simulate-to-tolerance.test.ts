import { describe, expect, it } from 'vitest';
import { triangle } from '../../../src/engine/physics/piecewise-linear.ts';
import { stepWaveform } from '../../../src/engine/physics/waveform.ts';
import { chooseStep } from '../../../src/engine/transient/choose-step.ts';
import { capacitor } from '../../../src/engine/transient/elements/capacitor.ts';
import { incomingWave } from '../../../src/engine/transient/elements/incoming-wave.ts';
import { inductor } from '../../../src/engine/transient/elements/inductor.ts';
import { line } from '../../../src/engine/transient/elements/line.ts';
import { resistor } from '../../../src/engine/transient/elements/resistor.ts';
import { voltageSource } from '../../../src/engine/transient/elements/voltage-source.ts';
import { simulate } from '../../../src/engine/transient/simulate.ts';
import { simulateToTolerance } from '../../../src/engine/transient/simulate-to-tolerance.ts';
import { ramp } from '../../support/waveforms.ts';
import { currentInto, shareApart, voltageAt } from './solved.ts';

const span = (name: string, from: string, to: string, delay: number) =>
  line({ name, from, to, surgeImpedance: 400, delay });
const wave = incomingWave({
  name: 'W',
  node: 'a',
  reference: 'earth',
  surgeImpedance: 400,
  waveform: triangle(300e3, 1.2e-6, 50e-6),
});

describe('choice of the step', () => {
  it('is short against the shortest delay, front and the duration', () => {
    const lines = [span('L1', 'a', 'b', 1e-6), span('L2', 'b', 'c', 30e-9)];
    expect(chooseStep(lines, 10e-6)).toBeLessThanOrEqual(15e-9);
    expect(chooseStep([wave], 100e-6)).toBeCloseTo(120e-9, 15);
    expect(chooseStep([wave], 1e-6)).toBeCloseTo(5e-9, 15);
  });

  it('makes all delays whole numbers of steps where it can', () => {
    const delays = [70e-9, 130e-9, 1.7e-6];
    const step = chooseStep(
      delays.map((delay, index) => span(`L${index}`, 'a', 'b', delay)),
      10e-6,
    );
    for (const delay of delays) expect(Math.abs(delay / step - Math.round(delay / step))).toBeLessThan(1e-6);
    expect(step).toBeLessThanOrEqual(35e-9);
  });
});

describe('run to a tolerance', () => {
  const ringing = {
    elements: [
      voltageSource({ name: 'V', from: 's', to: 'earth', waveform: stepWaveform(100) }),
      resistor({ name: 'R', from: 's', to: 'm', resistance: 2 }),
      inductor({ name: 'L', from: 'm', to: 'a', inductance: 20e-6 }),
      capacitor({ name: 'C', from: 'a', to: 'earth', capacitance: 0.1e-6 }),
    ],
  };

  it('ends where halving the step no longer moves the peaks, near the exact overshoot', () => {
    const outcome = simulateToTolerance(ringing, {
      duration: 30e-6,
      observe: [voltageAt('a')],
      tolerance: 1e-4,
    });
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    const { result } = outcome;
    const decay = 2 / (2 * 20e-6);
    const angular = Math.sqrt(1 / (20e-6 * 0.1e-6) - decay ** 2);
    const exact = 100 * (1 + Math.exp((-decay * Math.PI) / angular));
    expect(shareApart(result.records[0]!.peak, exact)).toBeLessThan(2e-4);
    expect(result.tolerance).toBe(1e-4);
    expect(result.firstStep).toBeCloseTo(150e-9, 18);
    expect(result.halvings).toBeGreaterThan(0);
    expect(result.step).toBeCloseTo(150e-9 / 2 ** result.halvings, 18);
    expect(result.largestChange).toBeLessThanOrEqual(1e-4);
    expect(result.imbalance).toBeLessThan(0.01);
  });

  it('reports the step that the result has: one run of that step gives the same', () => {
    const network = {
      elements: [
        wave,
        span('L', 'a', 'b', 0.3e-6),
        capacitor({ name: 'C', from: 'b', to: 'earth', capacitance: 1e-9 }),
      ],
    };
    const options = { duration: 8e-6, observe: [voltageAt('b'), currentInto('C')] };
    const managed = simulateToTolerance(network, options);
    if (!managed.ok) throw new Error(JSON.stringify(managed.problems));
    const single = simulate(network, { ...options, step: managed.result.step });
    if (!single.ok) throw new Error(JSON.stringify(single.problems));
    expect(single.result.records).toEqual(managed.result.records);
    const twice = simulate(network, { ...options, step: managed.result.step * 2 });
    if (!twice.ok) throw new Error(JSON.stringify(twice.problems));
    for (const [index, { peak }] of twice.result.records.entries()) {
      expect(shareApart(peak, single.result.records[index]!.peak)).toBeLessThanOrEqual(1e-3);
    }
  });

  it('says so when the peaks do not settle', () => {
    // 400 V in 1 ns on a coil: the peak lies in the first nanosecond, which steps of more than 100 ns never see.
    const network = {
      elements: [
        voltageSource({ name: 'V', from: 's', to: 'earth', waveform: ramp(400, 1e-9) }),
        resistor({ name: 'R', from: 's', to: 'a', resistance: 1e4 }),
        inductor({ name: 'L', from: 'a', to: 'earth', inductance: 50e-6 }),
      ],
    };
    const options = {
      duration: 20e-6,
      observe: [voltageAt('a')],
      firstStep: 1e-6,
      halvingLimit: 3,
      energyLimit: 1,
    };
    expect(simulateToTolerance(network, options)).toMatchObject({
      ok: false,
      problems: [{ code: 'step-not-settled', halvings: 3, tolerance: 1e-3, step: 0.125e-6 }],
    });
  });

  it('gives the same bytes twice', () => {
    const once = () => simulateToTolerance(ringing, { duration: 30e-6, observe: [voltageAt('a')] });
    expect(once()).toEqual(once());
  });
});
