import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const NAME = 'arrester-characteristic';
const WAVE: CaseGiven = { incident_voltage: '400 kV', surge_impedance: '400 ohm' };

test.each<[CaseGiven, string]>([
  [{ coefficient: '1e-27' }, 'needs its exponent'],
  [{ reference_voltage: '70 kV', exponent: '30' }, 'write reference_current'],
  [
    {
      points: [
        { voltage: '70 kV', current: '2 A' },
        { voltage: '80 kV', current: '1 A' },
      ],
    },
    'must rise',
  ],
  [{ exponent: '30' }, 'one of'],
])('refused: %j', (given, reason) => {
  expect(runCase(NAME, { ...WAVE, ...given }).faults.join('\n')).toContain(reason);
});

test('beyond the table nothing is extrapolated, and the voltage cannot be judged', () => {
  const points = [
    { voltage: '70 kV', current: '1 A' },
    { voltage: '80 kV', current: '10 A' },
  ];
  const run = runCase(NAME, { ...WAVE, points, permitted_voltage: '90 kV' });
  expect(run.result('arrester_voltage')).toBe('beyond the table');
  expect(run.verdict('residual_voltage')).toBe('cannot-be-judged');
  expect(run.cautions).toContain('beyond-the-table');
});

test('the solution lies on the law to the precision of the numbers', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 60 }),
      fc.double({ min: 20, max: 2000, noNaN: true }),
      fc.double({ min: 10, max: 1000, noNaN: true }),
      (exponent, incident, impedance) => {
        const run = runCase(NAME, {
          reference_voltage: '100 kV',
          reference_current: '1 kA',
          exponent,
          incident_voltage: `${incident} kV`,
          surge_impedance: `${impedance} ohm`,
        });
        const [u, i] = [run.number('arrester_voltage'), run.number('arrester_current')];
        // The current is a difference of nearly equal numbers where the arrester hardly conducts.
        const noise = (4 * Number.EPSILON * 2 * incident * 1e3) / impedance;
        expect(Math.abs(1e3 * (u / 100e3) ** exponent - i)).toBeLessThan(1e-12 * i + exponent * noise);
      },
    ),
    { numRuns: 50 },
  );
});
