import { describe, expect, it } from 'vitest';
import {
  doubleExponential,
  doubleExponentialCrestTime,
} from '../../../src/engine/physics/double-exponential.ts';
import { piecewiseLinear, triangle } from '../../../src/engine/physics/piecewise-linear.ts';
import { scaleWaveform, stepWaveform } from '../../../src/engine/physics/waveform.ts';
import { delayWaveform, ramp, rectangle, sine } from '../../support/waveforms.ts';

describe('piecewise-linear waveforms', () => {
  it('runs straight between corners, is zero before the first and stays at the last', () => {
    const waveform = piecewiseLinear([
      [1, 0],
      [2, 10],
      [4, 6],
    ]);
    expect([0, 1, 1.5, 2, 3, 4, 9].map(waveform.at)).toEqual([0, 0, 5, 10, 8, 6, 6]);
    expect(waveform.jumps).toEqual([]);
    expect(waveform.shortestTime).toBe(1);
  });

  it('has at a jump the value from before', () => {
    const waveform = rectangle(4, 5);
    expect([0, 1e-9, 5, 5 + 1e-9].map(waveform.at)).toEqual([0, 4, 4, 0]);
    expect(waveform.jumps).toEqual([0, 5]);
    const step = stepWaveform(3);
    expect([0, 1e-12].map(step.at)).toEqual([0, 3]);
  });

  it('makes ramps and triangles from front and half-value time', () => {
    expect([0.5, 1, 7].map(ramp(8, 1).at)).toEqual([4, 8, 8]);
    const wave = triangle(100, 1, 5);
    expect(wave.at(1)).toBe(100);
    expect(wave.at(5)).toBeCloseTo(50, 12);
    expect(wave.at(9)).toBe(0);
  });

  it('refuses no corners and corners that run backwards', () => {
    expect(() => piecewiseLinear([])).toThrow(RangeError);
    expect(() =>
      piecewiseLinear([
        [1, 0],
        [0, 1],
      ]),
    ).toThrow(RangeError);
  });

  it('is scaled and delayed with its jumps', () => {
    const waveform = delayWaveform(scaleWaveform(rectangle(4, 5), 2), 10);
    expect([10, 11, 15, 15.1].map(waveform.at)).toEqual([0, 8, 8, 0]);
    expect(waveform.jumps).toEqual([10, 15]);
  });
});

describe('double exponential', () => {
  it('crests where its derivative vanishes', () => {
    // Chakrabarti et al., Power System Engineering, ex. 13.9: incident peak 195.4 kV of 600 (e^-0.4t - e^-t), t in us.
    const time = doubleExponentialCrestTime(0.4e6, 1e6);
    expect(Math.abs(time - 1.527e-6)).toBeLessThan(5e-10);
    expect(Math.abs(doubleExponential(600, 0.4e6, 1e6).at(time) - 195.4)).toBeLessThanOrEqual(0.05);
  });
});

describe('sine', () => {
  it('begins with a jump unless switched on at its zero', () => {
    expect(sine(10, 50).jumps).toEqual([]);
    expect(sine(10, 50, 1).jumps).toEqual([0]);
    expect(sine(10, 50).at(5e-3)).toBeCloseTo(10, 12);
  });
});
