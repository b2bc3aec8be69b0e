import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const EDITIONS = ['ieee-80-1986', 'ieee-80-2013'] as const;

/** The value in each edition: that of 1986 first. */
const inBoth = (calculation: string, given: CaseGiven, name: string) =>
  EDITIONS.map((method) => runCase(calculation, { ...given, method }).number(name));

describe('one surface layer, two editions of IEEE Std 80', () => {
  // Handbook of Electrical Engineering, Appendix H, Table H.1d, pp. 590-595: limits by the series of images.
  test.each<[CaseGiven, number]>([
    [{ resistivity: '1000 ohm m', surface_resistivity: '5000 ohm m' }, 1190],
    [{ resistivity: '100 ohm m', surface_resistivity: '1000 ohm m' }, 361],
  ])('handbook, Appendix H: %j stands %d V by the edition of 1986 only', (soil, printed) => {
    const given = { duration: '0.5 s', surface_depth: '0.2 m', ...soil };
    const [older, newer] = inBoth('touch-and-step-limits', given, 'touch_limit');
    expect(Math.abs(older! - printed)).toBeLessThanOrEqual(0.5);
    expect(newer! - printed).toBeGreaterThan(5);
  });

  // IEEE Std 80, Annex B.1 (2000 and 2013), values from memory; the guide goes on with the factor rounded to 0.74.
  test('example B.1 has the factor 0.74 and 838.2 V by the edition of 2013 only', () => {
    const given: CaseGiven = {
      body_mass: '70 kg',
      duration: '0.5 s',
      resistivity: '400 ohm m',
      surface_resistivity: '2500 ohm m',
      surface_depth: '0.102 m',
    };
    const [olderFactor, newerFactor] = inBoth('touch-and-step-limits', given, 'surface_factor');
    expect(Math.abs(newerFactor! - 0.74)).toBeLessThanOrEqual(0.005);
    expect(Math.abs(olderFactor! - 0.74)).toBeGreaterThan(0.05);
    const [older, newer] = inBoth('touch-and-step-limits', given, 'touch_limit');
    expect(Math.abs(newer! - 838.2)).toBeLessThanOrEqual(2.5);
    expect(Math.abs(older! - 838.2)).toBeGreaterThan(50);
  });
});

describe('one grid, two editions of IEEE Std 80', () => {
  // Handbook of Electrical Engineering, Appendix H, case B.3, pp. 590-595; conductor diameter of 0.01 m inferred; the current printed to 1 A.
  test('handbook, case B.3: 2618 V by the edition of 1986 only', () => {
    const given: CaseGiven = {
      resistivity: '1000 ohm m',
      current: '483 A',
      length: '10 m',
      width: '10 m',
      conductors_along: '6',
      conductors_across: '6',
      depth: '0.5 m',
      conductor_diameter: '0.01 m',
      rods: '4',
      rod_length: '10 m',
    };
    const [older, newer] = inBoth('earth-grid', given, 'mesh_voltage');
    expect(Math.abs(older! - 2618)).toBeLessThanOrEqual(3);
    expect(Math.abs(newer! - 2618)).toBeGreaterThan(300);
  });

  // IEEE Std 80, Annexes B.1 and B.2 (2000 and 2013), values from memory; the guide goes on with rounded factors.
  test.each<[CaseGiven, number, number]>([
    [{}, 1002.1, 1],
    [{ rods: '20', rod_length: '7.5 m' }, 747.4, 2],
  ])('example with %j: %d V by the edition of 2013 only', (rods, printed, tolerance) => {
    const given: CaseGiven = {
      resistivity: '400 ohm m',
      current: '1908 A',
      length: '70 m',
      width: '70 m',
      conductors_along: '11',
      conductors_across: '11',
      depth: '0.5 m',
      conductor_diameter: '0.01 m',
      ...rods,
    };
    const [older, newer] = inBoth('earth-grid', given, 'mesh_voltage');
    expect(Math.abs(newer! - printed)).toBeLessThanOrEqual(tolerance);
    expect(older! - printed).toBeGreaterThan(50);
  });
});

test('limits alone are not judged; one voltage without the other leaves the other open', () => {
  const given: CaseGiven = { duration: '0.5 s', resistivity: '100 ohm m' };
  const alone = runCase('touch-and-step-limits', given);
  expect(alone.cautions).toContain('limits-only');
  expect([alone.verdict('touch_voltage'), alone.verdict('step_voltage')]).toEqual([undefined, undefined]);
  const touch = runCase('touch-and-step-limits', { ...given, touch_voltage: '100 V' });
  expect(touch.cautions).not.toContain('limits-only');
  expect(touch.verdict('touch_voltage')).toBe('complies');
  expect(touch.verdict('step_voltage')).toBe('cannot-be-judged');
});
