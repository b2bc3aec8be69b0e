import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const run = (given: CaseGiven) => runCase('lps-materials', given);

describe('lps-materials', () => {
  // IEC 62305-3:2010, Tables 6 to 9, from memory.
  test.each<[string, string, string, number]>([
    ['conductor', 'aluminium-alloy', 'tape', 50],
    ['conductor', 'copper-coated-steel', 'round', 50],
    ['rod', 'stainless-steel', 'round', 176],
    ['short-rod', 'copper', 'round', 70],
    ['earth-conductor', 'copper', 'stranded', 50],
    ['earth-conductor', 'galvanised-steel', 'round', 78],
    ['earth-conductor', 'stainless-steel', 'tape', 100],
    ['earth-conductor', 'bare-steel', 'tape', 75],
    ['bonding-bar', 'aluminium', 'stranded', 25],
    ['bonding-bar', 'galvanised-steel', 'tape', 50],
    ['bonding-internal', 'copper', 'stranded', 6],
    ['bonding-internal', 'stainless-steel', 'round', 16],
  ])('%s of %s, %s: %d mm²', (component, material, form, least) => {
    const given: CaseGiven = { component, material, form };
    expect(run({ ...given, section: `${least} mm^2` }).verdict('section')).toBe('complies');
    expect(run({ ...given, section: `${least - 0.1} mm^2` }).verdict('section')).toBe('does-not-comply');
  });

  test('what the table does not have is not judged as if it were there', () => {
    for (const given of [
      { component: 'earth-conductor', material: 'aluminium' },
      { component: 'rod', material: 'copper', form: 'stranded' },
      { component: 'conductor', material: 'zinc' },
      { component: 'bonding-bar', material: 'lead' },
    ]) {
      const found = run({ ...given, section: '500 mm^2' });
      expect(found.result('least_section')).toBe('not in the table');
      expect(found.verdict('section')).toBe('cannot-be-judged');
    }
  });

  test('stainless steel in concrete needs more than in the air', () => {
    const given: CaseGiven = { component: 'conductor', material: 'stainless-steel', diameter: '9 mm' };
    // 63.6 mm² against 50 mm² and 78 mm².
    expect(run(given).verdict('section')).toBe('complies');
    expect(run({ ...given, enclosed: 'yes' }).verdict('section')).toBe('does-not-comply');
    expect(run({ ...given, enclosed: 'yes', diameter: '10 mm' }).verdict('section')).toBe('complies');
  });

  // IEC 62305-3:2010, Table 3, from memory.
  test.each([
    ['copper', 5, 0.5],
    ['galvanised-steel', 4, 0.5],
    ['titanium', 4, 0.5],
    ['aluminium', 7, 0.65],
  ])('sheet of %s: %d mm that nothing pierces, %d mm where it does no harm', (material, whole, pierced) => {
    const verdict = (puncture: string, thickness: number) =>
      run({ component: 'sheet', material, puncture, thickness: `${thickness} mm` }).verdict('thickness');
    expect(verdict('excluded', whole)).toBe('complies');
    expect(verdict('excluded', whole - 0.01)).toBe('does-not-comply');
    expect(verdict('harmless', pierced)).toBe('complies');
    expect(verdict('harmless', pierced - 0.01)).toBe('does-not-comply');
  });

  test('lead and zinc are pierced however thick, and a sheet counts as one that must not be', () => {
    for (const material of ['lead', 'zinc']) {
      const thick: CaseGiven = { component: 'sheet', material, thickness: '20 mm' };
      expect(run(thick).verdict('thickness')).toBe('does-not-comply');
      expect(run({ ...thick, puncture: 'harmless' }).verdict('thickness')).toBe('complies');
    }
    expect(run({ component: 'sheet', material: 'copper' }).cautions).toContain('continuity-of-sheets');
  });

  test('a couple is judged either way round, and only where it is wet', () => {
    const couple = (material: string, joined_to: string, contact = 'wet') =>
      run({ component: 'conductor', material, joined_to, contact }).verdict('couple');
    for (const [one, other] of [
      ['aluminium', 'copper'],
      ['copper-coated-steel', 'galvanised-steel'],
      ['lead', 'stainless-steel'],
    ]) {
      expect(couple(one!, other!)).toBe('does-not-comply');
      expect(couple(other!, one!)).toBe('does-not-comply');
      expect(couple(one!, other!, 'dry')).toBe('complies');
    }
    for (const [one, other] of [
      ['stainless-steel', 'copper'],
      ['aluminium', 'galvanised-steel'],
      ['stainless-steel', 'aluminium-alloy'],
    ])
      expect(couple(one!, other!)).toBe('complies');
  });

  test('aluminium serves in the air alone', () => {
    const verdict = (environment: string) =>
      run({ component: 'conductor', material: 'aluminium', environment }).verdict('environment');
    expect(['air', 'soil', 'concrete'].map(verdict)).toEqual([
      'complies',
      'does-not-comply',
      'does-not-comply',
    ]);
  });
});
