import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const NAME = 'spd-effective-protection-level';
const SPD: CaseGiven = { spd_type: 'limiting', protection_level: '1.5 kV' };
const BRANCH: CaseGiven = { ...SPD, lead_a: '0.1 m', lead_b: '0.1 m', lead_c: '0.2 m' };

describe('permitted level by edition, length of circuit, shield and loss', () => {
  // Bands of IEC 62305-4:2010, Annex C, and GB 50057-2010, 6.4.7 (from memory), for a withstand of 2.5 kV.
  test.each<[CaseGiven, number | undefined]>([
    [{ circuit_length: '0 m' }, 2500],
    [{ circuit_length: '1 m' }, 2000],
    [{ circuit_length: '10 m' }, 2000],
    [{ circuit_length: '10 m', loss_of_service: 'yes' }, 1250],
    [{ circuit_length: '10.1 m', induced_voltage: '0.5 kV' }, 1000],
    [{ circuit_length: '10.1 m', circuit_shielded: 'yes' }, 1250],
    [{ circuit_length: '10.1 m' }, undefined],
    [{ method: 'gb-50057-2010', circuit_length: '5 m' }, 2500],
    [{ method: 'gb-50057-2010', circuit_length: '5.1 m' }, 2000],
    [{ method: 'gb-50057-2010', circuit_length: '9 m', circuit_shielded: 'yes' }, 2500],
    [{ method: 'gb-50057-2010', circuit_length: '11 m', circuit_shielded: 'yes' }, 1250],
    [{ method: 'gb-50057-2010', circuit_length: '11 m', induced_voltage: '0.5 kV' }, 1000],
  ])('%j: %s V', (given, expected) => {
    expect(
      runCase(NAME, { ...BRANCH, impulse_withstand: '2.5 kV', ...given }).result('permitted_level'),
    ).toBe(expected);
  });

  test('without the length of the circuit the protection cannot be judged', () => {
    const run = runCase(NAME, { ...BRANCH, impulse_withstand: '2.5 kV', induced_voltage: '0.5 kV' });
    expect(run.verdict('equipment_protection')).toBe('cannot-be-judged');
    expect(run.missing('equipment_protection')).toEqual(['circuit_length']);
    expect(run.cautions).toContain('no-circuit-length');
  });

  test('a long circuit without shield needs the induced voltage', () => {
    const run = runCase(NAME, { ...BRANCH, impulse_withstand: '2.5 kV', circuit_length: '20 m' });
    expect(run.missing('equipment_protection')).toEqual(['induced_voltage']);
  });
});

describe('which leads count', () => {
  const long: CaseGiven = { ...SPD, lead_a: '0.4 m', lead_b: '0.3 m', lead_c: '0.6 m' };
  test.each<[CaseGiven, number]>([
    [{}, 1.3],
    [{ disconnector_length: '0.1 m' }, 1.4],
    [{ wiring: 'through-line' }, 0.6],
    [{ wiring: 'through-both' }, 0],
  ])('%j: %s m', (given, expected) => {
    expect(runCase(NAME, { ...long, ...given }).number('lead_length')).toBeCloseTo(expected, 12);
  });

  test('the rule may count conductors only; the drop counts the disconnector all the same', () => {
    const run = runCase(NAME, {
      ...BRANCH,
      disconnector_length: '0.2 m',
      disconnector_in_rule: 'not-counted',
    });
    expect(run.number('rule_length')).toBeCloseTo(0.4, 12);
    expect(run.number('lead_drop')).toBeCloseTo(600, 9);
    expect(run.verdict('lead_length_rule')).toBe('complies');
  });

  test('a disconnector without a length of its own is pointed out', () => {
    expect(runCase(NAME, BRANCH).cautions).toContain('disconnector-path');
    expect(runCase(NAME, { ...BRANCH, lead_b: '0 m' }).cautions).not.toContain('disconnector-path');
    expect(runCase(NAME, { ...BRANCH, disconnector_length: '0.1 m' }).cautions).not.toContain(
      'disconnector-path',
    );
  });

  test('the rule binds by edition', () => {
    const verdicts = ['iec-60364-5-53-2015', 'iec-60364-5-53-2002', 'bs-7671-2008'].map((lead_rule) => {
      const run = runCase(NAME, { ...SPD, lead_a: '0.4 m', lead_b: '0.3 m', lead_c: '0.6 m', lead_rule });
      return [run.verdict('lead_length_rule'), run.verdict('lead_length_bound')];
    });
    expect(verdicts).toEqual([
      ['does-not-comply', undefined],
      ['not-met', undefined],
      ['not-met', 'does-not-comply'],
    ]);
  });
});

describe('refused', () => {
  test.each<[CaseGiven, string]>([
    [{ wiring: 'through-line', disconnector_length: '0.1 m' }, 'there is no disconnector in a branch'],
    [{ wiring: 'through-both', disconnector_length: '0.1 m' }, 'there is no disconnector in a branch'],
    [{ drop_basis: 'twenty-percent', lead_c: '0.4 m' }, 'at most 0.5 m'],
    [{ front_time: '8 us' }, 'front_time is used together with current'],
    [{ current: '10 kA' }, "'front_time'"],
    [{ current: '10 kA', front_time: '8 us', steepness: '1 kA/us' }, 'steepness'],
  ])('%j', (given, message) => {
    expect(runCase(NAME, { ...BRANCH, ...given }).faults.join('\n')).toContain(message);
  });
});

test('no length helps where the SPD alone lies above what is permitted', () => {
  const run = runCase(NAME, {
    ...BRANCH,
    spd_type: 'switching',
    impulse_withstand: '1.5 kV',
    circuit_length: '5 m',
  });
  expect(run.result('permitted_lead_length')).toBe('no length complies');
});

test('the longest permitted lead brings the level exactly to the lower of the two limits', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.5, max: 1.9, noNaN: true }),
      fc.double({ min: 0.3, max: 3, noNaN: true }),
      (up, slope) => {
        const given = {
          ...BRANCH,
          protection_level: `${up} kV`,
          steepness: `${slope} kA/us`,
          target_level: '2 kV',
        };
        const length = runCase(NAME, given).number('permitted_lead_length');
        const there = runCase(NAME, { ...given, lead_a: `${length} m`, lead_b: '0 m', lead_c: '0 m' });
        expect(there.number('effective_protection_level')).toBeCloseTo(2000, 6);
        expect(there.verdict('target')).toBe('complies');
      },
    ),
    { numRuns: 25 },
  );
});

test('a current with its front is judged on its largest slope too', () => {
  const given: CaseGiven = {
    spd_type: 'limiting',
    protection_level: '1.2 kV',
    lead_a: '0.2 m',
    lead_b: '0 m',
    lead_c: '0.2 m',
    current: '20 kA',
    front_time: '8 us',
  };
  // By hand: 1.2 kV + 0.4 µH * 2.5 kA/µs = 2.2 kV; with 2.98 kA/µs 2.392 kV; (2.3 - 1.2) kV / 2.98 kV/m = 0.3691 m.
  const run = (target_level: string) => runCase('spd-effective-protection-level', { ...given, target_level });
  expect(run('2.3 kV').number('effective_protection_level')).toBeCloseTo(2200, 6);
  expect(run('2.3 kV').number('steepest_level')).toBeCloseTo(2392, 6);
  expect(run('2.3 kV').verdict('target')).toBe('does-not-comply');
  expect(run('2.3 kV').number('permitted_lead_length')).toBeCloseTo(0.3691, 4);
  expect(run('2.4 kV').verdict('target')).toBe('complies');
  const { current: _current, front_time: _front, ...leads } = given;
  const judged = runCase('spd-effective-protection-level', {
    ...leads,
    steepness: '2.5 kA/us',
    target_level: '2.3 kV',
  });
  expect(judged.verdict('target')).toBe('complies');
  expect(judged.result('steepest_level')).toBeUndefined();
});
