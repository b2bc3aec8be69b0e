import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const cage: CaseGiven = { lpl: 'II', mesh_width: '1.2 m', rod_radius: '5 mm' };
const beside: CaseGiven = { ...cage, strike: 'nearby', stroke: 'first-negative', strike_distance: '90 m' };
const into: CaseGiven = {
  ...cage,
  strike: 'direct',
  stroke: 'subsequent',
  wall_distance: '3 m',
  roof_distance: '2.5 m',
};
const run = (given: CaseGiven) => runCase('lightning-field', given);

describe('lightning-field', () => {
  test('steel shields less against a slow front than copper, and as well against a fast one', () => {
    const factor = (material: string, stroke: string) =>
      run({ ...beside, material, stroke }).number('shielding_factor');
    // By hand: 20 lg(8.5/1.2) = 17.005; with steel of 5 mm less 10 lg(1 + 18/25) = 2.355.
    expect(factor('copper', 'first-positive')).toBeCloseTo(17.005, 3);
    expect(factor('steel', 'first-positive')).toBeCloseTo(14.65, 2);
    expect(factor('steel', 'subsequent')).toBeCloseTo(17.005, 3);
  });

  test('a mesh too wide to shield leaves the field as it is', () => {
    const open = run({ ...beside, mesh_width: '8.6 m', material: 'copper' });
    expect(open.number('field')).toBeCloseTo(75_000 / (2 * Math.PI * 90), 9);
    expect(open.cautions).toContain('no-shield');
  });

  test('a further shield of 20 dB leaves a tenth of field, voltage and current', () => {
    for (const strike of [beside, into]) {
      const loop: CaseGiven = { ...strike, loop_width: '0.4 m', loop_length: '5 m' };
      const [one, two] = [run(loop), run({ ...loop, inner_shielding: '20' })];
      expect(two.number('inner_field') / one.number('inner_field')).toBeCloseTo(0.1, 12);
      expect(two.number('induced_voltage') / one.number('induced_voltage')).toBeCloseTo(0.1, 12);
      expect(two.number('induced_current') / one.number('induced_current')).toBeCloseTo(0.1, 12);
    }
  });

  // Independent: the field of the formula integrated across the loop, from its near side inwards.
  test('at a direct stroke the induced voltage is the field over the loop', () => {
    const loop: CaseGiven = { ...into, loop_width: '0.7 m', loop_length: '9 m' };
    let flux = 0;
    const parts = 4000;
    for (let i = 0; i < parts; i++) {
      const wall = 3 + (9 * (i + 0.5)) / parts;
      flux += (4e-7 * Math.PI * 0.7 * 9 * 0.01 * 37_500 * 1.2) / (wall * Math.sqrt(2.5)) / parts;
    }
    expect(run(loop).number('induced_voltage') / (flux / 0.25e-6)).toBeCloseTo(1, 4);
  });

  test('the inductance of the loop is that of the rectangle at high frequency', () => {
    const loop = run({ ...beside, loop_width: '1.3 m', loop_length: '6.4 m', wire_radius: '2.5 mm' });
    const rectangle = runCase('conductor-inductance', {
      shape: 'rectangle',
      loop_length: '6.4 m',
      loop_width: '1.3 m',
      diameter: '5 mm',
      frequency: 'high',
    });
    expect(loop.number('loop_inductance') / rectangle.number('inductance')).toBeCloseTo(1, 9);
  });

  test('the sphere keeps a stroke away by its radius and half the structure', () => {
    const sphere = (current: string, height: string) =>
      run({
        strike: 'nearby',
        stroke: 'subsequent',
        current,
        mesh_width: '1 m',
        rod_radius: '5 mm',
        structure_length: '30 m',
        structure_height: height,
      });
    // 10 · 20^0.65 = 70.09 m
    expect(sphere('20 kA', '80 m').number('strike_distance')).toBeCloseTo(85.09, 2);
    expect(sphere('20 kA', '10 m').number('strike_distance')).toBeCloseTo(
      Math.sqrt(2 * 70.0918 * 10 - 100) + 15,
      3,
    );
  });

  test('limits of field and voltage', () => {
    const judged = (given: CaseGiven) => run({ ...into, loop_width: '2 m', loop_length: '12 m', ...given });
    expect(judged({ permitted_field: '100 A/m' }).verdict('field')).toBe('complies');
    expect(judged({ permitted_field: '90 A/m' }).verdict('field')).toBe('does-not-comply');
    expect(judged({ withstand_voltage: '2.5 kV' }).verdict('loop_voltage')).toBe('does-not-comply');
    expect(judged({}).verdict('field')).toBeUndefined();
  });
});
