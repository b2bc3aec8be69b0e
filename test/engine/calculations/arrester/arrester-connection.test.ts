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
    ['separate-earths', 6.95, 69.5e3, 295.5e3, 'does-not-comply'],
    ['common-earth', 6.95, 69.5e3, 155.5e3, 'does-not-comply'],
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
    // By hand: (170 kV / 1.15 - 1.1 * 86 kV) / (10 kV/m) = 5.3226 m: 10 kA/us is steeper than 8/20.
    expect(run('common-earth').number('permitted_lead_length')).toBeCloseTo(5.3226, 4);
  });
});

describe('a front steeper than the test of the residual voltage', () => {
  const steep: CaseGiven = {
    arrangement: 'common-earth',
    line_lead: '0.6 m',
    earth_lead: '1.5 m',
    residual_voltage: '62 kV',
    steepness: '4 kA/us',
    impulse_withstand: '82 kV',
  };
  const judged = (given: CaseGiven) =>
    runCase('arrester-connection', { ...steep, ...given }).evaluated?.checks[0];

  test('the raised residual voltage decides', () => {
    // By hand: 62 + 8.4 = 70.4 kV, ratio 1.1648; with 68.2 kV 76.6 kV, ratio 1.0705.
    const run = runCase('arrester-connection', steep);
    expect(run.number('protective_ratio')).toBeCloseTo(1.16477, 5);
    expect(run.number('steep_front_ratio')).toBeCloseTo(1.0705, 4);
    expect(judged({})?.verdict).toBe('does-not-comply');
    expect(judged({})?.judgedOn).toContain('raised by 10 %');
  });

  test.each<[string, CaseGiven]>([
    ['a slow front', { steepness: '2.4 kA/us' }],
    ['a factor of the author', { steep_front_factor: '1.001' }],
    ['a residual voltage for 1/20', { residual_waveform: '1/20' }],
  ])('%s leaves the value as it is', (_, given) => {
    expect(judged(given)?.judgedOn).toBeUndefined();
    expect(judged(given)?.verdict).toBe('complies');
  });

  test('the limiting length is that at which the raised voltage holds', () => {
    const limits = runCase('arrester-connection', steep).evaluated?.limiting;
    // By hand: (82 kV / 1.15 - 68.2 kV) / (4 kV/m) = 0.7761 m in all, less than the earth lead alone.
    const lead = limits?.find(({ given }) => given === 'line_lead');
    expect(JSON.stringify(lead?.result)).toContain('no value examined complies');
  });
});

test('across the terminals no travelling time is spoken of', () => {
  const cautions = (arrangement: string) => run(arrangement).cautions;
  expect(cautions('across-terminals')).not.toContain('distance-left-out');
  expect(cautions('common-earth')).toContain('distance-left-out');
});

test.each([
  ['10 kA/ms', true],
  ['10 kA/us', false],
] as const)('a steepness of %s is cautioned: %s', (steepness, isUnusual) => {
  const given = { ...lengths, arrangement: 'common-earth', steepness };
  expect(runCase('arrester-connection', given).cautions.includes('usual-range-steepness')).toBe(isUnusual);
});

describe('figure', () => {
  const drawn = (given: CaseGiven) => {
    const { evaluated, faults } = runCase('arrester-connection', { ...lengths, ...given });
    return evaluated?.figure?.svg ?? faults.join();
  };

  test.each(Object.keys(arrangements))('%s is drawn alone, with its own lengths', (arrangement) => {
    const svg = drawn({ ...arrangements[arrangement], arrangement });
    expect(svg.match(/>(Separate earths|Common earth|Across the terminals)</g)).toHaveLength(1);
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
