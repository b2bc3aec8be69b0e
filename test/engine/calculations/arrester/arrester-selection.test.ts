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
      'does-not-comply',
      'not-met',
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
  const CHECKS = ['repetitive_charge', 'charge_rating', 'energy_rating'];
  test.each([
    ['DH', ['repetitive_charge', 'charge_rating']],
    ['SM', ['repetitive_charge', 'energy_rating']],
    ['line-discharge-2', ['energy_rating']],
  ])('class %s is judged by %s', (name, judged) => {
    const run = runCase('arrester-duty', { ...LINE, class: name });
    expect(CHECKS.filter((check) => run.verdict(check) === 'complies')).toEqual(judged);
    expect(CHECKS.filter((check) => run.verdict(check) !== undefined)).toEqual(judged);
  });

  // By hand: 2 * length / (300 m/us) * (60 - 36) kV / 40 ohm = 4 C for every 1000 km.
  test.each([
    ['SL', '240 km', 0.96, 'complies'],
    ['SL', '260 km', 1.04, 'does-not-comply'],
    ['DM', '45 km', 0.18, 'complies'],
    ['DM', '60 km', 0.24, 'does-not-comply'],
  ])('class %s on %s: %f C, %s', (name, line_length, charge, verdict) => {
    const run = runCase('arrester-duty', {
      ...LINE,
      class: name,
      surge_impedance: '40 ohm',
      line_length,
    });
    expect(run.number('charge')).toBeCloseTo(charge, 9);
    expect(run.verdict('repetitive_charge')).toBe(verdict);
    expect(run.verdict(name === 'SL' ? 'energy_rating' : 'charge_rating')).toBe('complies');
  });

  const SURGE: CaseGiven = { flashover_voltage: '900 kV', lightning_level: '60 kV' };
  test('the energy and charge of a lightning surge decide where they are the worse', () => {
    // By hand: (1800 - 60 * (1 + ln 30)) kV * 60 kV * 300 us / 400 ohm = 69.117 kJ; 3.840 kJ/kV; 1.1520 C.
    const run = (name: string) => runCase('arrester-duty', { ...LINE, ...SURGE, class: name });
    expect(run('SM').number('lightning_energy')).toBeCloseTo(69117, -1);
    expect(run('SM').number('lightning_energy_per_rated_voltage')).toBeCloseTo(3.84, 2);
    expect(run('SM').number('lightning_charge')).toBeCloseTo(1.152, 3);
    expect(CHECKS.map(run('SM').verdict)).toEqual(['complies', undefined, 'complies']);
    expect(CHECKS.map(run('SL').verdict)).toEqual(['does-not-comply', undefined, 'complies']);
    expect(CHECKS.map(run('DH').verdict)).toEqual(['does-not-comply', 'does-not-comply', undefined]);
    const lower = runCase('arrester-duty', { ...LINE, ...SURGE, class: 'SL', flashover_voltage: '990 kV' });
    expect(lower.verdict('energy_rating')).toBe('does-not-comply');
    expect(lower.evaluated?.checks.map(({ judgedOn }) => judgedOn)).toEqual([
      'the charge of the lightning surge',
      'the energy of the lightning surge',
    ]);
  });

  test('the remedies are those of the surge that decides', () => {
    const remedies = (given: CaseGiven) =>
      runCase('arrester-duty', { ...LINE, class: 'DL', ...given })
        .evaluated?.checks.find(({ name }) => name === 'repetitive_charge')
        ?.remedies.join();
    expect(remedies(SURGE)).toContain('earth wires');
    expect(remedies(SURGE)).not.toContain('closing resistors');
    expect(remedies({ line_length: '300 km' })).toContain('closing resistors');
    expect(remedies({ line_length: '300 km' })).not.toContain('earth wires');
    // Nothing is discharged from the line: the lightning surge alone decides.
    expect(remedies({ ...SURGE, switching_overvoltage: '30 kV' })).toContain('earth wires');
  });

  test('the line feeds the arrester for twice its travelling time', () => {
    expect(runCase('arrester-duty', { ...LINE, class: 'DM' }).number('duration')).toBeCloseTo(200e-6, 12);
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

describe('cable-protection: the withstand voltage', () => {
  const cable: CaseGiven = { arrangement: 'open-end', riser_level: '45 kV', impulse_withstand: '75 kV' };
  // By hand: 45 kV and half of the level at the end.
  test.each([
    ['32 kV', 61, 'complies', 'met'],
    ['52 kV', 71, 'complies', 'not-met'],
    ['64 kV', 77, 'does-not-comply', 'not-met'],
  ])('an arrester of %s at the end: %d kV', (open_end_level, voltage, withstand, margin) => {
    const run = runCase('cable-protection', { ...cable, open_end_level });
    expect(run.number('cable_voltage')).toBeCloseTo(voltage * 1000, 6);
    expect([run.verdict('withstand'), run.verdict('margin')]).toEqual([withstand, margin]);
  });

  test('no level below nought is printed', () => {
    const run = runCase('cable-protection', { ...cable, open_end_level: '130 kV' });
    expect(run.result('permitted_riser_level')).toBe('no level keeps the margin');
    expect(JSON.stringify(run.evaluated?.limiting)).toContain('no value examined complies');
  });
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
