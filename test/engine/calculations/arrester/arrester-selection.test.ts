import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

describe('arrester-rating', () => {
  test.each<[string, string | number]>([
    ['3 kV', 4],
    ['36 kV', 45],
    ['72.5 kV', 96],
    ['245 kV', 324],
    ['700 kV', 'above the list'],
  ])('isolated system of %s: %s kV of the preferred values', (highest_voltage, expected) => {
    const found = runCase('arrester-rating', { highest_voltage, earthing: 'non-effective' }).result(
      'selected_rated_voltage',
    );
    expect(typeof expected === 'number' ? Number(found) / 1000 : found).toBe(expected);
  });

  test.each<[CaseGiven, string]>([
    [{ earthing: 'effective' }, 'write fault_duration'],
    [{ earthing: 'effective', fault_duration: '0.05 s' }, '0.1 s to 100 s'],
    [{ earthing: 'effective', fault_duration: '200 s' }, '0.1 s to 100 s'],
    [{ earthing: 'resonant', method: 'is-80-percent' }, 'effectively earthed systems only'],
    [{ earthing: 'resonant', standard_ratings: 'utility' }, 'utility_ratings'],
    [{ earthing: 'resonant', rated_voltage: '9 kV', continuous_voltage: '9 kV' }, 'below the rated voltage'],
  ])('refused: %j', (given, reason) => {
    expect(runCase('arrester-rating', { highest_voltage: '12 kV', ...given }).faults.join('\n')).toContain(
      reason,
    );
  });

  test('each respect is judged by itself', () => {
    const run = runCase('arrester-rating', {
      highest_voltage: '36 kV',
      earthing: 'non-effective',
      fault_duration: '10 s',
      rated_voltage: '30 kV',
      continuous_voltage: '24.4 kV',
    });
    expect(['continuous_voltage', 'temporary_overvoltage', 'rated_voltage'].map(run.verdict)).toEqual([
      'complies',
      'does not comply',
      'not met',
    ]);
  });
});

describe('arrester-duty', () => {
  const LINE: CaseGiven = {
    rated_voltage: '18 kV',
    switching_overvoltage: '60 kV',
    residual_voltage: '36 kV',
    line_length: '30 km',
    surge_impedance: '400 ohm',
  };
  test.each([
    ['DM', 'charge_rating', 'energy_rating'],
    ['SM', 'energy_rating', 'charge_rating'],
    ['line-discharge-2', 'energy_rating', 'charge_rating'],
  ])('class %s is judged by its %s alone', (name, judged, left) => {
    const run = runCase('arrester-duty', { ...LINE, class: name });
    expect(run.verdict(judged)).toBe('complies');
    expect(run.verdict(left)).toBeUndefined();
  });

  test('editions differ in the duration by a factor of two', () => {
    const charge = (duration_rule: string) =>
      runCase('arrester-duty', { ...LINE, class: 'DM', duration_rule }).number('charge');
    expect(charge('double-travel') / charge('single-travel')).toBeCloseTo(2, 12);
  });

  test('a residual voltage beyond the test of the class is refused', () => {
    const given = { ...LINE, class: 'line-discharge-5', residual_voltage: '44 kV' };
    expect(runCase('arrester-duty', given).faults.join()).toContain('does not fit the arrester');
  });
});

test('cable-protection: the second arrester helps at the open end, not within the cable', () => {
  const voltage = (given: CaseGiven) =>
    runCase('cable-protection', { riser_level: '40 kV', ...given }).number('cable_voltage');
  const alone = voltage({ arrangement: 'riser-only' });
  expect(voltage({ arrangement: 'open-end', open_end_level: '40 kV' })).toBe(0.75 * alone);
  expect(voltage({ arrangement: 'mid-point', mid_point_level: '40 kV' })).toBe(alone);
});

test('arrester-protective-distance-statistical: beyond twice the level a caution', () => {
  const given = {
    line_factor: '4500 kV',
    lines: '1',
    span: '50 m',
    failure_length: '50 m',
    insulation: 'internal',
  };
  const run = (distance: string) =>
    runCase('arrester-protective-distance-statistical', { ...given, protection_level: '100 kV', distance });
  expect(run('1 m').cautions).not.toContain('validity-full-reflection');
  expect(run('3 m').cautions).toContain('validity-full-reflection');
});
