import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const bare: CaseGiven = {
  material: 'copper',
  current: '6.3 kA',
  duration: '0.4 s',
  initial_temperature: '25 degC',
  final_temperature: '300 degC',
};
const run = (given: CaseGiven = {}) => runCase('earthing-conductor', { ...bare, ...given });

describe('earthing-conductor', () => {
  // By hand: K = √(3.45e-3 · 254.5 / 17.241e-6) = 225.67; k = 225.67 √ln(534.5/259.5) = 191.83; 6300 √0.4 / 191.83 = 20.77 mm².
  test('the adiabatic equation of IEC, by hand', () => {
    expect(run().number('k_factor')).toBeCloseTo(191.83, 1);
    expect(run().number('thermal_section') * 1e6).toBeCloseTo(20.77, 2);
    expect(run().number('made_section') * 1e6).toBeCloseTo(25, 12);
  });

  // By hand: 3.42 / (0.00381 · 1.78e-8) = 5.0429e16; ln((242 + 300)/(242 + 25)) = 0.70803; 6300 √(0.4 / 5.0429e16 / 0.70803).
  test('the equation of IEEE Std 80, by hand', () => {
    const hard = run({ method: 'ieee-80-2000', material: 'copper-hard-drawn' });
    expect(hard.number('thermal_section') * 1e6).toBeCloseTo(21.087, 2);
  });

  test('the standards agree within two per cent on copper, aluminium and not on what only one knows', () => {
    for (const material of ['copper', 'aluminium']) {
      const sections = ['iec-60364-5-54', 'en-50522', 'ieee-80-2000'].map((method) =>
        run({ method, material }).number('thermal_section'),
      );
      expect(Math.max(...sections) / Math.min(...sections)).toBeLessThan(1.02);
    }
    expect(run({ method: 'en-50522', material: 'stainless-steel' }).faults.join()).toContain('no constants');
  });

  // IEC 60364-5-54:2011, 542.3.1 and 543.1.3; EN 50522:2010, 5.2.2, from memory.
  test.each<[CaseGiven, number]>([
    [{ use: 'earthing' }, 6],
    [{ use: 'earthing-with-lightning' }, 16],
    [{ use: 'buried-unprotected' }, 25],
    [{ use: 'buried-unprotected', material: 'steel' }, 50],
    [{ use: 'protective-guarded' }, 2.5],
    [{ use: 'protective-open' }, 4],
    [{ use: 'protective-open', material: 'aluminium' }, 16],
    [{ method: 'en-50522' }, 16],
    [{ method: 'en-50522', material: 'aluminium' }, 35],
    [{ method: 'en-50522', material: 'steel' }, 50],
  ])('%j: at least %d mm²', (given, least) => {
    const slight = run({ ...given, current: '0.1 kA' });
    expect(slight.number('required_section') * 1e6).toBeCloseTo(least, 12);
    expect(slight.cautions).not.toContain('no-least-section');
  });

  test('where no least section is known that is said, and a larger one of the utility holds', () => {
    expect(run({ use: 'earthing', material: 'aluminium' }).cautions).toContain('no-least-section');
    expect(
      run({ method: 'ieee-80-2000', utility_minimum: '70 mm^2' }).number('required_section'),
    ).toBeCloseTo(70e-6, 15);
  });

  test('a conductor beyond those that are made is not given a size', () => {
    expect(run({ current: '95 kA', duration: '5 s' }).result('made_section')).toBe('beyond the series');
    // Exactly a size that is made is not rounded on to the next.
    expect(run({ current: '0.1 kA' }).number('made_section')).toBeCloseTo(6e-6, 15);
  });

  test('direct component and corrosion count in full', () => {
    const [base, more] = [run(), run({ decrement_factor: '1.2', corrosion_allowance: '30 %' })];
    expect(more.number('required_section') / base.number('required_section')).toBeCloseTo(1.56, 9);
  });

  test('the current that a section stands asks for that section', () => {
    const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(between(1, 40), between(0.1, 5), between(0.01, 0.8), (current, duration, c) => {
        const given = { current: `${current} kA`, duration: `${duration} s`, corrosion_allowance: String(c) };
        const corroded = run(given).number('corroded_section');
        const stood = run({ ...given, section: `${corroded * 1e6} mm^2` }).number('permitted_current');
        expect(stood / (current * 1000)).toBeCloseTo(1, 9);
      }),
      { numRuns: 25 },
    );
  });

  test('a section below the requirement does not comply', () => {
    expect(run({ section: '16 mm^2' }).verdict('section')).toBe('does-not-comply');
    expect(run({ section: '25 mm^2' }).verdict('section')).toBe('complies');
    expect(run().verdict('section')).toBe('cannot-be-judged');
  });
});
