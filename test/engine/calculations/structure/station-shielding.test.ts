import { describe, expect, test } from 'vitest';
import { coronaRadius } from '../../../../src/engine/physics/corona-radius.ts';
import { type CaseGiven, runCase } from '../run-case.ts';

const busbar: CaseGiven = { impulse_withstand: '650 kV', surge_impedance: '310 ohm', object_height: '8 m' };
const run = (given: CaseGiven) => runCase('station-shielding', { ...busbar, ...given });

describe('station-shielding', () => {
  test('a mast has a striking distance a fifth longer than a wire', () => {
    const distance = (arrangement: string) =>
      run({ arrangement, shield_height: '15 m' }).number('striking_distance');
    // 2.2 · 650/310 = 4.6129 kA; 8 · 4.6129^0.65
    expect(distance('wire')).toBeCloseTo(8 * (1430 / 310) ** 0.65, 9);
    expect(distance('mast') / distance('wire')).toBeCloseTo(1.2, 12);
  });

  // Independent: the rolling sphere of the other calculation with the same radius.
  test('one mast and two wires protect what a sphere of that radius leaves', () => {
    const mast = run({ arrangement: 'mast', shield_height: '17 m', object_distance: '4 m' });
    const sphere = runCase('rolling-sphere', {
      sphere_radius: `${mast.number('striking_distance')} m`,
      rod_height: '17 m',
      object_height: '8 m',
    });
    expect(mast.number('protected_distance')).toBeCloseTo(sphere.number('protected_radius'), 6);
    const wires = run({ arrangement: 'two-wires', shield_height: '17 m', spacing: '14 m' });
    const between = runCase('rolling-sphere', {
      sphere_radius: `${wires.number('striking_distance')} m`,
      rod_height: '17 m',
      spacing: '14 m',
    });
    expect(wires.number('protected_height')).toBeCloseTo(between.number('lowest_protected_height'), 6);
  });

  // Independent: the sphere moved about by trial.
  test('between two masts the sphere that touches both and the ground leaves the width', () => {
    const found = run({
      arrangement: 'two-masts',
      shield_height: '16 m',
      spacing: '18 m',
      object_distance: '1 m',
    });
    const radius = found.number('striking_distance');
    // From the side the sphere rolls in along the middle until a mast, 9 m to either hand, touches it.
    let away = 60;
    const touches = (y: number) => Math.hypot(y, 9) ** 2 + (radius - 16) ** 2 <= radius ** 2;
    while (!touches(away)) away -= 1e-4;
    const edge = away - Math.sqrt(radius ** 2 - (radius - 8) ** 2);
    expect(found.number('protected_distance')).toBeCloseTo(edge, 2);
  });

  test('what cannot be protected is said, and does not comply', () => {
    const none: readonly CaseGiven[] = [
      { arrangement: 'mast', shield_height: '8 m', object_distance: '1 m' },
      { arrangement: 'two-masts', shield_height: '16 m', spacing: '60 m', object_distance: '1 m' },
      { arrangement: 'two-masts', shield_height: '9 m', spacing: '20 m', object_distance: '1 m' },
    ];
    for (const given of none) {
      expect(run(given).result('protected_distance')).toBe('no protected area');
      expect(run(given).verdict('distance')).toBe('does-not-comply');
    }
    const wide = run({ arrangement: 'two-wires', shield_height: '20 m', spacing: '60 m' });
    expect(wide.result('protected_height')).toBe('no protected area');
    expect(wide.verdict('height')).toBe('does-not-comply');
  });

  test('a mast higher than the striking distance protects no more', () => {
    const at = (height: number) =>
      run({ arrangement: 'mast', shield_height: `${height} m` }).number('protected_distance');
    expect(at(40)).toBeCloseTo(at(27), 9);
  });

  test('the corona radius fulfils its equation, and there is none where it would reach the ground', () => {
    for (const [voltage, height] of [
      [350e3, 5],
      [1050e3, 8],
      [1800e3, 12],
    ] as const) {
      const radius = coronaRadius(voltage, height, 1.5e6)!;
      expect((radius * Math.log((2 * height) / radius)) / (voltage / 1.5e6)).toBeCloseTo(1, 9);
    }
    expect(coronaRadius(6e6, 5, 1.5e6)).toBeUndefined();
    const low = run({
      arrangement: 'mast',
      shield_height: '20 m',
      impulse_withstand: '2400 kV',
      surge_impedance: '300 ohm',
    });
    expect(low.faults).toEqual([]);
    const { surge_impedance: _, ...rest } = busbar;
    const buried = runCase('station-shielding', {
      ...rest,
      arrangement: 'mast',
      shield_height: '20 m',
      impulse_withstand: '2400 kV',
      busbar_height: '2 m',
      busbar_radius: '5 cm',
    });
    expect(buried.faults.join()).toContain('is too low');
  });

  test('the angle protects in proportion to the height above the object', () => {
    const at = (object: number) =>
      run({
        method: 'iec-62305-3-angle',
        lpl: 'III',
        arrangement: 'wire',
        shield_height: '12 m',
        object_height: `${object} m`,
        object_distance: '5 m',
      });
    expect(at(2).number('protected_distance') / at(7).number('protected_distance')).toBeCloseTo(2, 9);
    expect(at(7).result('striking_distance')).toBeUndefined();
  });
});
