import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const roof: CaseGiven = {
  installation: 'building',
  lightning_protection: 'none',
  spd: 'present',
  modules: '16',
  module_voltage: '48 V',
};
const run = (given: CaseGiven = {}) => runCase('pv-spd', { ...roof, ...given });

describe('pv-spd', () => {
  // IEC 60364-7-712:2017, 712.443.5.101, from memory: 115, 200 and 450 over the density.
  test.each([
    ['dwelling', 46],
    ['ground-plant', 80],
    ['building', 180],
  ])('critical length of %s: %d m at 2.5 flashes', (installation, length) => {
    const at = (route: number) =>
      run({ installation, ground_flash_density: '2.5 1/km^2/year', route_length: `${route} m` });
    expect(at(1).number('critical_length')).toBeCloseTo(length, 9);
    expect(at(length - 0.1).number('need')).toBe(0);
    expect(at(length).number('need')).toBe(1);
  });

  test('without length or density, and with a lightning protection system, SPDs are required', () => {
    expect(run({ route_length: '1 m' }).number('need')).toBe(1);
    expect(run({ route_length: '1 m' }).cautions).toContain('no-lengths');
    const short: CaseGiven = { route_length: '1 m', ground_flash_density: '0.1 1/km^2/year', spd: 'absent' };
    expect(run(short).verdict('protection')).toContain('complies');
    for (const lightning_protection of ['separated', 'joined'])
      expect(run({ ...short, lightning_protection }).verdict('protection')).toBe('does-not-comply');
  });

  test('frost raises the voltage, and without its figures a fifth is added', () => {
    const cold: CaseGiven = { temperature_coefficient: '-0.31 %/K', lowest_temperature: '-22 degC' };
    // 768 V · (1 + 0.0031 · 47) and 768 V · 1.2
    expect(run(cold).number('open_circuit_voltage')).toBeCloseTo(879.898, 3);
    expect(run().number('open_circuit_voltage')).toBeCloseTo(921.6, 9);
    expect(run({ continuous_voltage: '921 V' }).verdict('continuous_voltage')).toBe('does-not-comply');
    expect(run({ ...cold, continuous_voltage: '900 V' }).verdict('continuous_voltage')).toBe('complies');
  });

  // IEC 61643-32:2017, impulse currents of voltage-limiting SPDs, from memory.
  test.each([
    ['I', 3, 10],
    ['I', 4, 5],
    ['II', 2, 7.5],
    ['II', 8, 3.75],
    ['III', 1, 5],
    ['IV', 6, 2.5],
  ])('array bonded to a system of level %s with %d down conductors: %d kA', (lpl, down, least) => {
    const joined = (impulse: number) =>
      run({
        lightning_protection: 'joined',
        lpl,
        down_conductors: `${down}`,
        impulse_current: `${impulse} kA`,
      });
    expect(joined(least).verdict('impulse_current')).toContain('complies');
    expect(joined(least * 0.99).verdict('impulse_current')).toBe('does-not-comply');
    expect(joined(least).verdict('nominal_current')).toBeUndefined();
  });

  test('a long line needs a second SPD, or a level of half the withstand voltage', () => {
    const long = (given: CaseGiven) =>
      run({ route_length: '11 m', protection_level: '4 kV', impulse_withstand: '6 kV', ...given });
    expect(long({}).verdict('distance')).toBe('does-not-comply');
    expect(long({ route_length: '10 m' }).verdict('distance')).toContain('complies');
    expect(long({ second_spd: 'present' }).verdict('distance')).toBeUndefined();
    expect(long({ protection_level: '3 kV' }).verdict('distance')).toBeUndefined();
    expect(long({ protection_level: '4.9 kV' }).verdict('protection_level')).toBe('does-not-comply');
  });

  test('every string drives the short-circuit current', () => {
    const given: CaseGiven = { module_current: '11 A', strings: '6', short_circuit_rating: '80 A' };
    // 1.25 · 66 A
    expect(run(given).number('short_circuit_current')).toBeCloseTo(82.5, 9);
    expect(run(given).verdict('short_circuit_rating')).toBe('does-not-comply');
  });
});
