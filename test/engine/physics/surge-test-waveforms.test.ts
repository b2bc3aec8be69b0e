import { describe, expect, it } from 'vitest';
import {
  dampedSineCurrent8by20,
  unipolarCurrent8by20,
} from '../../../src/engine/physics/surge-test-waveforms.ts';
import { waveformProperties } from '../../../src/engine/physics/waveform-properties.ts';

const within = (found: number, value: number, tolerance: number): void =>
  expect(Math.abs(found - value), `${found} against ${value}`).toBeLessThanOrEqual(tolerance);

/** Nominal times from the waves' names; other figures computed with the same functions by another program. */
describe('test waveforms', () => {
  it('gives the unipolar 8/20 current its front, tail and integrals', () => {
    const { peak, frontTime, halfValueTime, maximumSteepness, charge, specificEnergy } = waveformProperties(
      unipolarCurrent8by20(10e3),
      'current',
      400e-6,
    );
    within(frontTime!, 8e-6, 0.05e-6);
    within(halfValueTime!, 20e-6, 0.1e-6);
    within(peak / 10e3, 0.9996, 5e-5);
    within(frontTime!, 8.02e-6, 5e-9);
    within(halfValueTime!, 19.94e-6, 5e-9);
    within(maximumSteepness / peak, 0.149e6, 60);
    within(charge / peak, 17.46e-6, 5e-9);
    within(specificEnergy / peak ** 2, 12.17e-6, 5e-9);
  });

  it('gives the damped-sine 8/20 current its front, tail and undershoot', () => {
    const waveform = dampedSineCurrent8by20(10e3);
    const { peak, frontTime, halfValueTime, maximumSteepness, specificEnergy } = waveformProperties(
      waveform,
      'current',
      400e-6,
    );
    within(peak, 10e3, 0.01);
    within(frontTime!, 8e-6, 5e-9);
    within(halfValueTime!, 20e-6, 5e-9);
    within(maximumSteepness / peak, 0.1951e6, 50);
    within(specificEnergy / peak ** 2, 14.16e-6, 5e-9);
    const firstHalfWave = waveformProperties(waveform, 'current', Math.PI / 120023);
    within(firstHalfWave.specificEnergy / peak ** 2, 12.56e-6, 5e-9);
    const undershoot = waveform.at(Math.atan(120023 / 41628) / 120023 + Math.PI / 120023);
    within(undershoot / peak, -0.336, 5e-4);
  });
});
