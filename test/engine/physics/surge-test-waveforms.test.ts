import { describe, expect, it } from 'vitest';
import {
  dampedSine,
  dampedSineCurrent8by20,
  differenceImpulse1by50,
  impulse,
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

  it('gives the 1.2/50 voltage its front and tail', () => {
    const waveform = impulse('1.2/50', 6e3);
    const { peak, frontTime, halfValueTime, maximumSteepness, charge, specificEnergy } = waveformProperties(
      waveform,
      'voltage',
      3e-3,
    );
    within(frontTime!, 1.2e-6, 5e-10);
    within(halfValueTime!, 50e-6, 5e-9);
    within(peak / 6e3, 0.9998, 5e-5);
    within(maximumSteepness / peak, 2.546e6, 500);
    // In closed form: A (t2 - 1/(1/t1 + 1/t2)).
    within(charge / 6e3, 1.037 * (68.22e-6 - 1 / (1 / 0.4074e-6 + 1 / 68.22e-6)), 1e-10);
    within(specificEnergy / peak ** 2, 36.0e-6, 6e-8);
    // The computed 70.1 us holds to the end of a 400 us record; without end the integral is 70.3 us.
    within(waveformProperties(waveform, 'voltage', 400e-6).charge / peak, 70.1e-6, 5e-8);
    within(0.6 * frontTime!, 0.718e-6, 3e-9);
  });

  it('gives the 1.2/50 voltage in its textbook form the same front and tail', () => {
    const difference = differenceImpulse1by50(6e3);
    const { peak, frontTime, halfValueTime, maximumSteepness, charge } = waveformProperties(
      difference,
      'voltage',
      3e-3,
    );
    within(frontTime!, 1.2e-6, 5e-10);
    within(halfValueTime!, 50e-6, 5e-8);
    within(peak / 6e3, 1, 5e-4);
    // The slope at the start, in closed form: A (1/T1 - 1/T2).
    within(maximumSteepness / 6e3, 1.037 * (1 / 0.405e-6 - 1 / 68.2e-6), 1e3);
    within(charge / 6e3, 1.037 * (68.2e-6 - 0.405e-6), 1e-10);
    // Both forms are one function, within the rounding of their constants.
    for (const time of [0.1e-6, 0.5e-6, 1e-6, 2e-6, 10e-6, 50e-6, 200e-6]) {
      within(difference.at(time) / 6e3, impulse('1.2/50', 6e3).at(time) / 6e3, 5e-4);
    }
  });

  it('gives the 10/1000 wave its front and tail', () => {
    const { frontTime, halfValueTime } = waveformProperties(impulse('10/1000', 100), 'current', 30e-3);
    within(frontTime!, 10e-6, 0.05e-6);
    within(halfValueTime!, 1000e-6, 5e-6);
  });

  it('scales a damped sine to its first crest', () => {
    const { peak, peakTime } = waveformProperties(dampedSine(5, 0, 2 * Math.PI * 1e3), 'current', 0.5e-3);
    within(peak, 5, 1e-6);
    within(peakTime, 0.25e-3, 1e-7);
  });
});
