import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const station: CaseGiven = {
  fault_current: '1600 A',
  reduction_factor: '0.5',
  impedance_to_earth: '0.4 ohm',
  duration: '0.2 s',
  low_voltage: 'none',
};
const run = (given: CaseGiven = {}) => runCase('earthing-voltage-design', { ...station, ...given });

describe('earthing-voltage-design', () => {
  // 320 V against 2 · 537 V at 0.2 s, 2 · 117 V at 1 s and 4 · 117 V with measures. EN 50522, Table B.3, from memory.
  test.each<[CaseGiven, number, string]>([
    [{}, 1074, 'complies'],
    [{ duration: '1 s' }, 234, 'does-not-comply'],
    [{ duration: '1 s', specified_measures: 'taken' }, 468, 'complies'],
    [{ duration: '40 s', specified_measures: 'taken' }, 340, 'complies'],
    [{ duration: '40 s' }, 170, 'does-not-comply'],
  ])('%j: limit of the rise %d V, %s', (given, limit, verdict) => {
    expect(run(given).number('potential_rise')).toBeCloseTo(320, 9);
    expect(run(given).number('rise_limit')).toBeCloseTo(limit, 9);
    expect(run(given).verdict('rise')).toBe(verdict);
  });

  test('with the touch voltage itself the rise is not judged, and in a global earthing system neither', () => {
    const measured = run({ duration: '1 s', touch_voltage: '60 V' });
    expect(measured.verdict('rise')).toBeUndefined();
    expect(measured.verdict('touch')).toBe('complies');
    expect(run({ duration: '1 s', touch_voltage: '118 V' }).verdict('touch')).toBe('does-not-comply');
    const shod: CaseGiven = { duration: '1 s', touch_voltage: '118 V', additional_resistance: '200 ohm' };
    // 117 V + 200 Ω · 80 mA
    expect(run(shod).number('touch_limit')).toBeCloseTo(133, 9);
    expect(run(shod).verdict('touch')).toBe('complies');
    const global = run({ duration: '1 s', global_earthing: 'yes' });
    expect(global.verdict('rise')).toBeUndefined();
    expect(global.cautions).toContain('global-earthing');
  });

  test('a TN system is judged by its factor, a TT system by the stress of the insulation', () => {
    const tn = (pen_factor: string) => run({ duration: '1 s', low_voltage: 'TN', pen_factor });
    expect(tn('2').verdict('low_voltage_touch')).toBe('does-not-comply');
    expect(tn('3').verdict('low_voltage_touch')).toBe('complies');
    const tt = (impedance: string, duration: string) =>
      run({ impedance_to_earth: impedance, duration, low_voltage: 'TT' }).verdict('stress');
    // 800 A through 1.5 Ω and 1.51 Ω: 1200 V and 1208 V; through 0.3125 Ω and 0.32 Ω: 250 V and 256 V.
    expect(tt('1.5 ohm', '5 s')).toContain('complies');
    expect(tt('1.51 ohm', '5 s')).toBe('does-not-comply');
    expect(tt('0.3125 ohm', '6 s')).toContain('complies');
    expect(tt('0.32 ohm', '6 s')).toBe('does-not-comply');
  });

  test('between the durations of the table the line in the logarithms holds', () => {
    // Between 0.2 s, 537 V and 0.5 s, 220 V.
    const at = Math.log(0.3 / 0.2) / Math.log(0.5 / 0.2);
    expect(run({ duration: '0.3 s' }).number('permissible_touch_voltage')).toBeCloseTo(
      537 * (220 / 537) ** at,
      9,
    );
  });

  test('the impedance that is needed is that with which the rise complies, and not a hair more', () => {
    const needed = run({ duration: '1 s' }).number('needed_impedance');
    const verdict = (ohms: number) =>
      run({ duration: '1 s', impedance_to_earth: `${ohms} ohm` }).verdict('rise');
    expect(needed).toBeCloseTo(234 / 800, 12);
    expect(verdict(needed * 0.9999)).toBe('complies');
    expect(verdict(needed * 1.0001)).toBe('does-not-comply');
  });

  test('the figure draws the limits of the checks that are made, and no other', () => {
    const drawn = (given: CaseGiven) => {
      const { svg } = run(given).evaluated!.figure!;
      const label = /aria-label="([^"]*)"/.exec(svg)![1]!;
      return { tn: /3 U_?\{?Tp/.test(label), shod: label.includes('vTp'), twice: /2 U_?\{?Tp/.test(label) };
    };
    expect(drawn({ low_voltage: 'TN', pen_factor: '3' })).toEqual({ tn: true, shod: false, twice: true });
    expect(drawn({ touch_voltage: '60 V', low_voltage: 'TN', pen_factor: '3' })).toMatchObject({
      tn: true,
      twice: false,
    });
    expect(drawn({ touch_voltage: '60 V', additional_resistance: '500 ohm' })).toEqual({
      tn: false,
      shod: true,
      twice: false,
    });
    expect(drawn({ touch_voltage: '60 V' })).toEqual({ tn: false, shod: false, twice: false });
  });
});
