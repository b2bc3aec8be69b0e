import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const NAME = 'arrester-protective-distance';
const CASE: CaseGiven = { protection_level: '50 kV', steepness: '1000 kV/us', impulse_withstand: '95 kV' };

test('the voltage rises with the distance up to twice the level, and no further', () => {
  const metre = fc.double({ min: 1e-3, max: 1e4, noNaN: true });
  fc.assert(
    fc.property(metre, metre, (a, b) => {
      const at = (d: number) => runCase(NAME, { ...CASE, distance: `${d} m` }).number('terminal_voltage');
      const [near, far] = [at(Math.min(a, b)), at(Math.max(a, b))];
      expect(near).toBeLessThanOrEqual(far * (1 + 1e-12));
      expect(far).toBeLessThanOrEqual(100e3);
    }),
    { numRuns: 25 },
  );
});

describe('the protective distance at the edges of its words', () => {
  test.each([
    ['57.5 kV', 0],
    ['57.4 kV', 'no distance'],
    ['114.9 kV', 7.487],
    ['115 kV', 'not limited by reflection'],
  ])('withstand %s: %s', (impulse_withstand, expected) => {
    const found = runCase(NAME, { ...CASE, impulse_withstand, distance: '1 m' }).result(
      'protective_distance',
    );
    if (typeof expected === 'string') expect(found).toBe(expected);
    else expect(found).toBeCloseTo(expected, 3);
  });
});

test('the note says what lies within level and distance, by method', () => {
  const cautions = (method: string) => runCase(NAME, { ...CASE, method, distance: '3 m' }).cautions;
  expect(cautions('level-with-leads')).toContain('contents-with-leads');
  expect(cautions('level-with-leads')).not.toContain('contents-iec');
  expect(cautions('iec-60099-5')).toContain('contents-iec');
});

test('without a withstand the margin cannot be judged; a wave faster than light is refused', () => {
  const { protection_level, steepness } = CASE;
  const run = runCase(NAME, { protection_level: protection_level!, steepness: steepness!, distance: '3 m' });
  expect(run.verdict('withstand_margin')).toBe('cannot-be-judged');
  expect(() => runCase(NAME, { ...CASE, distance: '3 m', velocity: '301 m/us' })).toThrow('300 m/us');
});
