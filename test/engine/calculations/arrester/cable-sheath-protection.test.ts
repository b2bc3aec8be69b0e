import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const cable: CaseGiven = {
  bonding: 'single-point',
  formation: 'flat',
  section_length: '850 m',
  spacing: '180 mm',
  sheath_diameter: '70 mm',
  load_current: '640 A',
};
const run = (given: CaseGiven = {}) => runCase('cable-sheath-protection', { ...cable, ...given });

/** Size of what three balanced currents of 1 A induce in a sheath, per metre and radian, over 0.2 µH/m: places in m. */
function coupling(places: readonly (readonly [number, number])[], sheath: number, diameter: number): number {
  let [real, imaginary] = [0, 0];
  places.forEach(([x, y], i) => {
    const [sx, sy] = places[sheath]!;
    const distance = i === sheath ? diameter / 2 : Math.hypot(x - sx, y - sy);
    real -= Math.cos((2 * Math.PI * i) / 3) * Math.log(distance);
    imaginary -= Math.sin((2 * Math.PI * i) / 3) * Math.log(distance);
  });
  return Math.hypot(real, imaginary);
}

describe('cable-sheath-protection', () => {
  // Independent: the three currents in complex numbers, at the places where the cables lie.
  test('the least favourable sheath of either formation', () => {
    const flat = [0, 1, 2].map((sheath) =>
      coupling(
        [
          [0, 0],
          [0.18, 0],
          [0.36, 0],
        ],
        sheath,
        0.07,
      ),
    );
    expect(run().number('coupling_factor')).toBeCloseTo(Math.max(...flat), 12);
    const trefoil = coupling(
      [
        [0, 0],
        [0.18, 0],
        [0.09, 0.09 * Math.sqrt(3)],
      ],
      1,
      0.07,
    );
    expect(run({ formation: 'trefoil' }).number('coupling_factor')).toBeCloseTo(trefoil, 12);
  });

  // Independent: the earth fault as two filaments, core and conductor, seen by the sheath.
  test('the earth fault goes out in the core and returns in the conductor', () => {
    const found = run({
      earth_fault_current: '12 kA',
      conductor_distance: '140 mm',
      conductor_radius: '5 mm',
      conductor_resistance: '0.2 ohm/km',
    });
    const alongSheath = -Math.log(0.035) + Math.log(0.14);
    const alongConductor = Math.log(0.005) - Math.log(0.14);
    const reactance = 2 * Math.PI * 50 * 2e-7 * (alongSheath - alongConductor);
    expect(found.number('earth_fault_voltage')).toBeCloseTo(12e3 * 850 * Math.hypot(0.2e-3, reactance), 6);
  });

  test('the limiter is judged on the worse of both faults', () => {
    const faults: CaseGiven = {
      fault_current: '12 kA',
      earth_fault_current: '12 kA',
      conductor_distance: '140 mm',
      conductor_radius: '5 mm',
      conductor_resistance: '0.2 ohm/km',
    };
    const three = run(faults).number('fault_voltage');
    const earth = run(faults).number('earth_fault_voltage');
    expect(earth).toBeGreaterThan(three);
    const between = run({ ...faults, limiter_voltage: `${(three + earth) / 2} V` });
    expect(between.verdict('limiter_fault')).toBe('does-not-comply');
    expect(run({ ...faults, limiter_voltage: `${earth * 1.001} V` }).verdict('limiter_fault')).toBe(
      'complies',
    );
    // What the earth fault lacks leaves the verdict open.
    const { conductor_radius: _, ...lacking } = faults;
    expect(run({ ...lacking, limiter_voltage: '30 kV' }).verdict('limiter_fault')).toBe('cannot-be-judged');
  });

  test('without the kind of bonding nothing is judged', () => {
    const { bonding: _, ...unsaid } = cable;
    const found = runCase('cable-sheath-protection', {
      ...unsaid,
      fault_current: '1 kA',
      limiter_voltage: '9 kV',
    });
    expect(found.faults.join()).toContain("'bonding'");
  });

  test('leads add to the limiter, and across a joint both sides stand in series', () => {
    const surge: CaseGiven = {
      bonding: 'cross-bonded',
      limiter_residual: '10 kV',
      lead_length: '4 m',
      lead_inductance: '0.9 uH/m',
      steepness: '3 kA/us',
      jacket_withstand: '24 kV',
      joint_withstand: '47 kV',
    };
    expect(run(surge).number('sheath_surge')).toBeCloseTo(20_800, 9);
    // 24 kV and 47 kV over 1.15 are 20.87 kV and 40.87 kV.
    expect(run(surge).verdict('jacket')).toBe('complies');
    expect(run(surge).verdict('joint')).toBe('does-not-comply');
    expect(run({ ...surge, bonding: 'single-point' }).verdict('joint')).toBeUndefined();
    expect(run(surge).cautions).toContain('earth-fault-apart');
  });

  test('the standing voltage grows with length, load and frequency', () => {
    const twice = run({ section_length: '1700 m', load_current: '320 A', frequency: '60 Hz' });
    expect(twice.number('standing_voltage') / run().number('standing_voltage')).toBeCloseTo(1.2, 12);
    expect(run({ permitted_standing_voltage: '60 V' }).verdict('standing_voltage')).toBe('does-not-comply');
  });
});
