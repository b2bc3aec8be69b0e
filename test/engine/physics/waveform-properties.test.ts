import { describe, expect, it } from 'vitest';
import { triangle } from '../../../src/engine/physics/piecewise-linear.ts';
import { scaleWaveform } from '../../../src/engine/physics/waveform.ts';
import {
  sampledWaveformProperties,
  waveformProperties,
} from '../../../src/engine/physics/waveform-properties.ts';
import { ramp, rectangle } from '../../support/waveforms.ts';

describe('waveform properties', () => {
  it('finds in a straight-sided wave what it was made from', () => {
    for (const kind of ['current', 'voltage'] as const) {
      const found = waveformProperties(triangle(100, 2, 50), kind, 98);
      expect(found.peak).toBeCloseTo(100, 2);
      expect(found.frontTime).toBeCloseTo(2, 4);
      expect(found.virtualOrigin).toBeCloseTo(0, 4);
      expect(found.halfValueTime).toBeCloseTo(50, 3);
      expect(found.widthAtHalf).toBeCloseTo(49, 3);
      expect(found.charge).toBeCloseTo((100 * 98) / 2, 1);
      expect(found.specificEnergy).toBeCloseTo((100 ** 2 * 98) / 3, -1);
      expect(found.maximumSteepness).toBeCloseTo(50, 4);
    }
  });

  it('keeps the sign of the peak and turns with it', () => {
    const found = waveformProperties(scaleWaveform(triangle(100, 2, 50), -1), 'current', 98);
    expect(found.peak).toBeCloseTo(-100, 2);
    expect(found.frontTime).toBeCloseTo(2, 4);
    expect(found.halfValueTime).toBeCloseTo(50, 3);
    expect(found.charge).toBeLessThan(0);
  });

  it('has no half-value time where the wave stays above half', () => {
    expect(waveformProperties(ramp(5, 1), 'current', 10).halfValueTime).toBeNull();
  });

  it('is infinitely steep at a jump, which has no front', () => {
    const found = waveformProperties(rectangle(4, 5), 'current', 10);
    expect(found.maximumSteepness).toBe(Number.POSITIVE_INFINITY);
    expect(found.frontTime).toBeCloseTo(0, 9);
    expect(found.halfValueTime).toBeCloseTo(5, 6);
    expect(found.charge).toBeCloseTo(20, 3);
  });

  it('reads a record by straight lines between its samples', () => {
    const found = sampledWaveformProperties(
      Float64Array.from([0, 1, 2, 4, 6]),
      Float64Array.from([0, 5, 10, 6, 0]),
      'current',
    );
    expect(found).toMatchObject({ peak: 10, peakTime: 2, charge: 32, maximumSteepness: 5 });
    expect(found.frontTime).toBeCloseTo(2, 12);
    expect(found.halfValueTime).toBeCloseTo(4 + 1 / 3, 12);
  });

  it('knows nothing of a record that never moves', () => {
    const zero = sampledWaveformProperties(new Float64Array([0, 1]), new Float64Array(2), 'current');
    expect(zero).toMatchObject({ peak: 0, frontTime: null, halfValueTime: null, charge: 0 });
  });
});
