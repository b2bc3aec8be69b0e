import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const run = (given: CaseGiven) => runCase('soil-resistivity', given);
const survey = (...rows: (readonly [number, number])[]) =>
  rows.map(([spacing, resistance]) => ({ spacing: `${spacing} m`, resistance: `${resistance} ohm` }));

const readings = survey([1, 31], [2, 12.2], [3, 6.4], [5, 2.3], [10, 0.71], [20, 0.29]);

describe('soil-resistivity', () => {
  test('mean and spread of the readings', () => {
    const found = run({ readings: survey([2, 10], [4, 4]) });
    // By hand: 2 π · 20 = 125.66 and 2 π · 16 = 100.53 Ω m.
    expect(found.number('mean_resistivity')).toBeCloseTo(Math.PI * 36, 9);
    expect(found.number('spread')).toBeCloseTo(1.25, 12);
    expect(found.cautions).not.toContain('layered');
  });

  test('too few spacings give no layers and no verdict, however often each was read', () => {
    const few = run({ readings: survey([1, 30], [2, 12], [2, 12.4], [4, 4], [4, 4.1]), rod_length: '3 m' });
    expect(few.faults).toEqual([]);
    expect(few.result('upper_resistivity')).toBe('too few spacings');
    expect(few.result('rod_resistivity')).toBe('too few spacings');
    expect(few.verdict('fit_quality')).toBe('cannot-be-judged');
  });

  test('a rod counts by the length that it has in each layer', () => {
    const found = run({ readings, rod_length: '6 m', rod_top: '0.6 m' });
    const [upper, lower] = [found.number('upper_resistivity'), found.number('lower_resistivity')];
    const thickness = found.number('layer_thickness');
    expect(thickness).toBeGreaterThan(0.6);
    const conductance = (thickness - 0.6) / upper + (6.6 - thickness) / lower;
    expect(found.number('rod_resistivity')).toBeCloseTo(6 / conductance, 9);
    expect(run({ readings, rod_length: '0.2 m' }).number('rod_resistivity')).toBeCloseTo(upper, 9);
    expect(run({ readings, rod_length: '3 m', rod_top: '15 m' }).number('rod_resistivity')).toBeCloseTo(
      lower,
      9,
    );
  });

  test('a small plate counts by the upper layer, a large grid nearly by the lower', () => {
    const of = (area: string) => run({ readings, grid_area: area });
    const [small, large] = [of('0.01 m^2'), of('250000 m^2')];
    expect(small.number('grid_resistivity') / small.number('upper_resistivity')).toBeCloseTo(1, 1);
    const overLower = large.number('grid_resistivity') / large.number('lower_resistivity');
    expect(overLower).toBeGreaterThan(1);
    expect(overLower).toBeLessThan(1.1);
    expect(of('900 m^2').cautions).toContain('surface-voltages');
  });

  test('a survey narrower than the grid, and a poor fit, are told', () => {
    const wide = run({ readings, earthing_extent: '45 m' });
    expect(wide.verdict('reach')).toBe('not-met');
    expect(run({ readings, earthing_extent: '20 m' }).verdict('reach')).toBe('met');
    // One reading in six is wrong by a factor of two.
    const slip = survey([1, 31], [2, 12.2], [3, 12.8], [5, 2.3], [10, 0.71], [20, 0.29]);
    expect(run({ readings: slip }).verdict('fit_quality')).toBe('not-met');
    expect(run({ readings }).verdict('fit_quality')).toBe('met');
  });
});
