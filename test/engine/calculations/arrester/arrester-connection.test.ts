import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

/** One set of lengths for all three arrangements. */
const lengths: CaseGiven = {
  line_lead: '1.5 m',
  earth_lead: '5 m',
  arrester_height: '0.45 m',
  residual_voltage: '86 kV',
  steepness: '10 kA/us',
  impulse_withstand: '170 kV',
};
const arrangements: Readonly<Record<string, CaseGiven>> = {
  'separate-earths': { current: '10 kA', earth_resistance: '14 ohm' },
  'common-earth': {},
  'across-terminals': { tail_length: '0.3 m' },
};
const run = (arrangement: string) =>
  runCase('arrester-connection', { ...lengths, ...arrangements[arrangement], arrangement });

describe('the three arrangements at equal lengths', () => {
  // By hand: 10 kV for every metre that counts; 10 kA over 14 ohm are 140 kV.
  test.each([
    ['separate-earths', 6.95, 69.5e3, 295.5e3, 'does not comply'],
    ['common-earth', 6.95, 69.5e3, 155.5e3, 'does not comply'],
    ['across-terminals', 0.75, 7.5e3, 93.5e3, 'complies'],
  ] as const)('%s: %d m, %d V, %d V', (arrangement, counted, drop, voltage, verdict) => {
    const found = run(arrangement);
    expect(found.number('counted_length')).toBeCloseTo(counted, 9);
    expect(found.number('lead_drop')).toBeCloseTo(drop, 6);
    expect(found.number('terminal_voltage')).toBeCloseTo(voltage, 6);
    expect(found.number('protective_ratio')).toBeCloseTo(170e3 / voltage, 9);
    expect(found.verdict('withstand_margin')).toBe(verdict);
  });

  test('the earth drop belongs to separate earths; there no length complies', () => {
    expect(run('separate-earths').number('earth_drop')).toBeCloseTo(140e3, 6);
    expect(run('separate-earths').result('permitted_lead_length')).toBe('no length complies');
    expect(run('common-earth').result('earth_drop')).toBeUndefined();
    // By hand: (170 kV / 1.15 - 86 kV) / (10 kV/m) = 6.1826 m.
    expect(run('common-earth').number('permitted_lead_length')).toBeCloseTo(6.1826, 4);
  });
});

describe('figure', () => {
  const drawn = (given: CaseGiven) => {
    const { evaluated, faults } = runCase('arrester-connection', { ...lengths, ...given });
    return evaluated?.figure?.svg ?? faults.join();
  };

  test.each(Object.keys(arrangements))('%s is marked and names its own lengths', (arrangement) => {
    const svg = drawn({ ...arrangements[arrangement], arrangement });
    expect(svg.match(/this case/g)).toHaveLength(1);
    expect(svg).toContain('counted length');
  });

  test('lengths that are not given are left out', () => {
    const { evaluated } = runCase('arrester-connection', {
      arrangement: 'across-terminals',
      residual_voltage: '86 kV',
      steepness: '10 kA/us',
    });
    expect(evaluated?.figure?.svg).toContain('counted length');
    expect(evaluated?.figure?.svg).not.toContain('NaN');
  });
});

test('a joint with the tank contradicts separate earths', () => {
  const given = { ...lengths, ...arrangements['separate-earths'], arrangement: 'separate-earths' };
  expect(runCase('arrester-connection', given).faults).toEqual([]);
  const { faults } = runCase('arrester-connection', { ...given, bond_position: '1 m' });
  expect(faults.join()).toContain('the earths are not separate');
});
