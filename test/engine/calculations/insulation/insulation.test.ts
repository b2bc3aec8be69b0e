import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

describe('insulation-margins', () => {
  const NAME = 'insulation-margins';
  const PAIR: CaseGiven = { lightning_withstand: '95 kV', lightning_level: '36 kV' };

  test('the verdict does not depend on the base', () => {
    const kilovolts = fc.double({ min: 1, max: 500, noNaN: true });
    fc.assert(
      fc.property(kilovolts, kilovolts, (withstand, level) => {
        const on = (base: string) =>
          runCase(NAME, { lightning_withstand: `${withstand} kV`, lightning_level: `${level} kV`, base });
        expect(on('withstand').verdict('lightning')).toBe(on('protective-level').verdict('lightning'));
      }),
      { numRuns: 30 },
    );
  });

  test.each<[CaseGiven, readonly (string | undefined)[]]>([
    [{}, ['met', undefined, undefined, undefined]],
    [{ switching_level: '30 kV' }, ['met', undefined, 'cannot-be-judged', undefined]],
    [
      { front_of_wave_level: '40 kV', chopped_wave_withstand: '110 kV' },
      ['met', 'met', undefined, undefined],
    ],
    [{ lightning_limit: '200 %' }, ['does-not-comply', undefined, undefined, undefined]],
    [{ sparkover_level: '40 kV', sparkover_limit: '100 %' }, ['met', undefined, undefined, 'complies']],
    [{ sparkover_level: '40 kV' }, ['met', undefined, undefined, undefined]],
  ])('%j: each kind against its like', (given, expected) => {
    const run = runCase(NAME, { ...PAIR, ...given });
    expect(['lightning', 'front_of_wave', 'switching', 'sparkover'].map(run.verdict)).toEqual(expected);
  });

  const WITHIN = ['lightning', 'front_of_wave', 'switching', 'sparkover'].map((kind) => `${kind}_within`);
  test.each<[CaseGiven, readonly (string | undefined)[]]>([
    [{ lightning_level: '94 kV' }, ['complies', undefined, undefined, undefined]],
    [{ lightning_level: '97 kV' }, ['does-not-comply', undefined, undefined, undefined]],
    [{ lightning_level: '80 kV', lead_drop: '18 kV' }, ['does-not-comply', undefined, undefined, undefined]],
    [
      { front_of_wave_level: '112 kV', chopped_wave_withstand: '105 kV' },
      ['complies', 'does-not-comply', undefined, undefined],
    ],
    [
      { switching_level: '81 kV', switching_withstand: '79 kV' },
      ['complies', undefined, 'does-not-comply', undefined],
    ],
    [{ sparkover_level: '101 kV' }, ['complies', undefined, undefined, 'does-not-comply']],
  ])('%j: no level above the withstand complies', (given, expected) => {
    const run = runCase(NAME, { ...PAIR, ...given });
    expect(WITHIN.map(run.verdict)).toEqual(expected);
    expect(run.evaluated?.checks.find((c) => WITHIN.includes(c.name))?.force).toBe('requirement');
  });

  test('leads: not included is said, and they count where they were chosen to', () => {
    expect(runCase(NAME, PAIR).cautions).toContain('leads-not-included');
    const margin = (given: CaseGiven) =>
      runCase(NAME, { ...PAIR, lead_drop: '20 kV', ...given }).number('lightning_margin');
    expect(margin({})).toBeCloseTo(95 / 56 - 1, 12);
    expect(margin({ add_lead_drop_to: 'front-of-wave' })).toBeCloseTo(95 / 36 - 1, 12);
  });

  test.each([
    ['lightning', '120 kV', '119.9 kV'],
    ['front_of_wave', '120 kV', '119.9 kV'],
    ['switching', '115 kV', '114.9 kV'],
  ])('%s: %s above 100 kV is enough, %s is not', (kind, enough, little) => {
    const withstand = kind === 'front_of_wave' ? 'chopped_wave_withstand' : `${kind}_withstand`;
    const verdicts = [enough, little].map((value) =>
      runCase(NAME, { [withstand]: value, [`${kind}_level`]: '100 kV' }).verdict(kind),
    );
    expect(verdicts).toEqual(['met', 'not-met']);
  });

  test('half a pair is refused', () => {
    expect(runCase(NAME, { lightning_withstand: '95 kV' }).faults.join()).toContain('at least one pair');
  });
});

describe('altitude-correction', () => {
  test('the two references differ by the factor of 1000 m, and neither corrects below its own', () => {
    const at = (altitude: string, reference: string) =>
      runCase('altitude-correction', { altitude, reference }).number('altitude_factor');
    expect(at('3000 m', 'sea-level') / at('3000 m', '1000-m')).toBeCloseTo(Math.exp(1000 / 8150), 12);
    expect(at('999 m', '1000-m')).toBe(1);
    expect(at('-200 m', 'sea-level')).toBe(1);
    expect(runCase('altitude-correction', { altitude: '3000 m' }).cautions).toContain('usual-range-altitude');
  });
});

describe('insulation-withstand', () => {
  const SURGE: CaseGiven = {
    highest_voltage: '36 kV',
    overvoltage_kind: 'lightning',
    insulation: 'internal',
  };
  test.each<[CaseGiven, string]>([
    [{ highest_voltage: '33 kV', representative_overvoltage: '100 kV' }, 'not a standard value of range I'],
    [{ convert_to: 'power-frequency', representative_overvoltage: '100 kV' }, 'lightning impulse test only'],
    [{ two_percent_overvoltage: '100 kV' }, 'applies to switching'],
  ])('refused: %j', (given, reason) => {
    expect(runCase('insulation-withstand', { ...SURGE, ...given }).faults.join('\n')).toContain(reason);
  });

  test('the selected level is the lowest that suffices', () => {
    const level = (kilovolts: number) =>
      runCase('insulation-withstand', { ...SURGE, representative_overvoltage: `${kilovolts} kV` }).result(
        'selected_level',
      );
    expect(level(145 / 1.15)).toBe(145e3);
    expect(level(145.1 / 1.15)).toBe(170e3);
    expect(level(170.1 / 1.15)).toBe('no standard level suffices');
  });

  test('altitude raises external insulation only', () => {
    const required = (insulation: string, altitude: string) =>
      runCase('insulation-withstand', {
        ...SURGE,
        insulation,
        altitude,
        representative_overvoltage: '100 kV',
      }).number('required_withstand');
    expect(required('internal', '2000 m')).toBe(required('internal', '0 m'));
    expect(required('external', '2000 m') / required('external', '0 m')).toBeCloseTo(
      Math.exp(2000 / 8150),
      12,
    );
  });
});

test('creepage-distance: no level of the edition of 1986 is very light', () => {
  const run = (pollution_class: string) =>
    runCase('creepage-distance', { highest_voltage: '24 kV', pollution_class, base: 'phase-phase' });
  const basisOf = (name: string) =>
    run(name).evaluated?.steps.find((s) => s.name === 'specific_creepage')?.basis;
  expect(basisOf('a')?.kind).toBe('derivation');
  expect(basisOf('b')).toMatchObject({ kind: 'source', source: 'iec-60815-1986' });
  expect(run('a').cautions).toContain('no-level-of-1986');
});

test('creepage-distance: below 1000 m no correction, above it the exponent of polluted insulators', () => {
  const at = (altitude: string) =>
    runCase('creepage-distance', { highest_voltage: '36 kV', pollution_class: 'c', altitude }).number(
      'required_creepage',
    );
  expect(at('1000 m')).toBe(at('0 m'));
  expect(at('3000 m') / at('0 m')).toBeCloseTo(Math.exp((0.5 * 2000) / 8150), 12);
});
