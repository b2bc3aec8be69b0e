import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const impedance = fc.double({ min: 1, max: 5000, noNaN: true });

test('at a junction voltages add up, currents add up, and so does the power', () => {
  fc.assert(
    fc.property(impedance, fc.array(impedance, { minLength: 1, maxLength: 5 }), (incoming, outgoing) => {
      const run = runCase('wave-junction', {
        incident_voltage: '100 kV',
        incoming_impedance: `${incoming} ohm`,
        outgoing_impedances: outgoing.map((z) => `${z} ohm`),
      });
      const [u, t, r] = [100e3, run.number('transmitted_voltage'), run.number('reflected_voltage')];
      const currents = run.evaluated?.steps.find((s) => s.name === 'outgoing_currents')?.result;
      if (currents?.type !== 'list') throw new Error('no currents');
      const onwards = currents.items.reduce((sum, item) => sum + item.si, 0);
      expect(u + r).toBeCloseTo(t, 6);
      expect(run.number('incident_current') + run.number('reflected_current')).toBeCloseTo(onwards, 6);
      expect((u * u - r * r) / incoming / (t * onwards)).toBeCloseTo(1, 9);
    }),
    { numRuns: 30 },
  );
});

test('currents of two parallel lines (Ray, Electrical Power Systems, Example 12.2: 56.34 A, 394.37 A)', () => {
  const run = runCase('wave-junction', {
    incident_voltage: '100 kV',
    incoming_impedance: '400 ohm',
    outgoing_impedances: ['350 ohm', '50 ohm'],
  });
  const currents = run.evaluated?.steps.find((s) => s.name === 'outgoing_currents')?.result;
  expect(currents?.type === 'list' && currents.items.map(({ si }) => si.toFixed(2))).toEqual([
    '56.34',
    '394.37',
  ]);
});

test.each<[CaseGiven, string]>([
  [{ inductance: '0.5 mH/km' }, 'capacitance'],
  [{ inductance: '0.5 mH/km', kind: 'coaxial', radius: '1 mm', outer_radius: '2 mm' }, 'kind'],
  [{ capacitance: '9 pF/m', kind: 'coaxial', radius: '1 mm', outer_radius: '2 mm' }, 'kind'],
  [{ inductance: '0.5 uH/km', capacitance: '9 pF/m' }, 'faster than light'],
  [{ kind: 'coaxial', radius: '2 mm', outer_radius: '2 mm' }, 'outside the core'],
  [{ kind: 'two-wire', radius: '2 mm', spacing: '4 mm' }, 'touch'],
  [{ kind: 'overhead', radius: '2 mm', height: '10 mm' }, 'ten radii'],
])('line constants refused: %j', (given, reason) => {
  expect(runCase('line-constants', given).faults.join('\n')).toContain(reason);
});

test('waves between round conductors in air travel at the velocity of light', () => {
  for (const given of [
    { kind: 'overhead', radius: '9 mm', height: '10 m' },
    { kind: 'two-wire', radius: '9 mm', spacing: '1 m' },
    { kind: 'coaxial', radius: '9 mm', outer_radius: '30 mm' },
  ])
    expect(runCase('line-constants', given).number('velocity') / 299_792_458).toBeCloseTo(1, 8);
});
