import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const span = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('separation-distance', () => {
  const wall: CaseGiven = { lpl: 'II', material: 'solid', length: '10 m' };

  test('a share that is given is the share that counts, and stands among the results', () => {
    const run = runCase('separation-distance', { ...wall, current_share: '0.5' });
    expect(run.number('current_share')).toBe(0.5);
    expect(run.number('separation_distance')).toBeCloseTo(0.6, 12);
  });

  test.each<[CaseGiven, string]>([
    [{ ...wall }, "'current_share' or 'method'"],
    [{ ...wall, method: 'simplified' }, "'count'"],
    [{ ...wall, method: 'roof', count: '3', spacing: '10 m', height: '10 m' }, 'four or more'],
    [{ ...wall, method: 'ridge', count: '3', spacing: '10 m', height: '10 m' }, 'two down conductors'],
    [{ ...wall, method: 'roof', count: '4', spacing: '90 m', height: '1 m' }, 'exceeds 1'],
  ])('%j is refused', (given, words) => {
    expect(runCase('separation-distance', given).faults.join()).toContain(words);
  });

  test('the formula for roofs is not believed far from the heights and distances that it rests on', () => {
    const roof = (spacing: string, height: string) =>
      runCase('separation-distance', { ...wall, method: 'roof', count: '8', spacing, height });
    expect(roof('12 m', '15 m').cautions).not.toContain('validity-roof-dimensions');
    expect(roof('12 m', '35 m').cautions).toContain('validity-roof-dimensions');
    expect(roof('0.4 m', '15 m').faults.join()).toContain('factor of three');
    expect(roof('12 m', '85 m').faults.join()).toContain('factor of three');
  });

  test('layers make up the whole gap, and none counts more than air', () => {
    const through = (gap: string, factor: string) =>
      runCase('separation-distance', {
        lpl: 'I',
        layers: [
          { thickness: '0.24 m', factor: 0.5 },
          { thickness: '0.06 m', factor },
        ],
        length: '8 m',
        current_share: '0.5',
        gap,
      });
    expect(through('0.3 m', '1').faults).toEqual([]);
    expect(through('0.9 m', '1').faults.join()).toContain('do not add up');
    expect(() => through('0.3 m', '4')).toThrow('permitted');
  });

  // NFPA 780 (from memory): 25 ft apart, within 100 ft of the bond. Two of the conductors of a long building lie so near.
  test('NFPA 780 counts the conductors in the zone alone', () => {
    const given: CaseGiven = { standard: 'nfpa-780', material: 'air', length: '9 m' };
    expect(runCase('separation-distance', { ...given, count: '14' }).faults.join()).toContain(
      'conductors_in_zone',
    );
    const near = runCase('separation-distance', { ...given, conductors_in_zone: '2' });
    expect(near.number('separation_distance')).toBeCloseTo(1, 12);
  });

  test('unlike earth resistances take the whole current', () => {
    const run = runCase('separation-distance', {
      ...wall,
      method: 'simplified',
      count: '4',
      earth_resistances: 'unlike',
    });
    expect(run.number('current_share')).toBe(1);
  });

  test('the rows of a path are printed with their numbers and the names of their columns', () => {
    const printed = (path: { length: string; share: number }[]) =>
      runCase('separation-distance', { lpl: 'I', material: 'air', path })
        .evaluated?.givens.find(({ name }) => name === 'path')
        ?.print.replaceAll('\u00a0', ' ');
    expect(printed([{ length: '3 m', share: 1 }])).toBe('length 3 m, share 1');
    expect(
      printed([
        { length: '3 m', share: 1 },
        { length: '10 m', share: 0.5 },
      ]),
    ).toBe('1: length 3 m, share 1; 2: length 10 m, share 0.5');
  });

  test('pieces of a path with one share are one length', () => {
    fc.assert(
      fc.property(span(0.1, 50), span(0.1, 50), span(0.1, 1), (one, two, share) => {
        const whole = runCase('separation-distance', {
          lpl: 'I',
          material: 'air',
          length: `${one + two} m`,
          current_share: `${share}`,
        });
        const pieces = runCase('separation-distance', {
          lpl: 'I',
          material: 'air',
          path: [
            { length: `${one} m`, share },
            { length: `${two} m`, share },
          ],
        });
        expect(pieces.number('separation_distance')).toBeCloseTo(whole.number('separation_distance'), 9);
      }),
      { numRuns: 20 },
    );
  });
});

describe('rolling-sphere', () => {
  test.each<[CaseGiven, string]>([
    [{ lpl: 'I', rod_height: '10 m', object_height: '11 m' }, 'higher than the rod'],
    [{ lpl: 'I', rod_height: '10 m', spacing: '40.1 m' }, 'falls through'],
  ])('%j is refused', (given, words) => {
    expect(runCase('rolling-sphere', given).faults.join()).toContain(words);
  });

  test('supports a whole diameter apart hold the sphere at half of it', () => {
    const run = runCase('rolling-sphere', { lpl: 'I', rod_height: '30 m', spacing: '40 m' });
    expect(run.number('penetration')).toBeCloseTo(20, 9);
  });

  test('the protected radius is never negative', () => {
    fc.assert(
      fc.property(span(0.1, 80), span(1e-6, 1), (rod, share) => {
        const radius = runCase('rolling-sphere', {
          lpl: 'II',
          rod_height: `${rod} m`,
          object_height: `${rod * share} m`,
        }).result('protected_radius');
        if (typeof radius === 'number') expect(radius).toBeGreaterThan(0);
        else expect(radius).toBe('no protected area');
      }),
      { numRuns: 40 },
    );
  });

  test('a rod of the required height protects just so far', () => {
    fc.assert(
      fc.property(span(0.5, 8), span(1, 20), (object, radius) => {
        const given: CaseGiven = {
          lpl: 'IV',
          object_height: `${object} m`,
          required_radius: `${radius} m`,
        };
        const height = runCase('rolling-sphere', { ...given, rod_height: '59 m' }).number(
          'required_rod_height',
        );
        const found = runCase('rolling-sphere', { ...given, rod_height: `${height} m` });
        expect(found.number('protected_radius')).toBeCloseTo(radius, 6);
      }),
      { numRuns: 20 },
    );
  });

  test('two supports alone protect less than supports all around', () => {
    const given: CaseGiven = { lpl: 'II', rod_height: '8 m', spacing: '20 m', object_height: '6 m' };
    const many = runCase('rolling-sphere', given);
    const pair = runCase('rolling-sphere', { ...given, supports: 'pair' });
    expect(many.cautions).toContain('two-supports-alone');
    expect(pair.number('lowest_protected_height')).toBeLessThan(many.number('lowest_protected_height'));
    expect(pair.number('lowest_protected_height')).toBeCloseTo(many.number('pair_height'), 12);
  });
});

describe('collection-area', () => {
  test('each method draws its own area of one tower', () => {
    const area = (method: string) =>
      runCase('collection-area', { method, length: '10 m', width: '10 m', height: '50 m' }).number(
        'collection_area',
      );
    const ratio = area('iec-62305-2') / area('bs-6651');
    expect(area('iec-62305-2')).toBe(area('nfpa-780'));
    expect(ratio).toBeGreaterThan(6);
    expect(ratio).toBeLessThan(9);
  });

  test('GB 50057 has no step at a height of 100 m', () => {
    const width = (height: string) =>
      runCase('collection-area', { method: 'gb-50057', length: '10 m', width: '10 m', height }).number(
        'collection_width',
      );
    expect(width('99.9999 m')).toBeCloseTo(width('100 m'), 3);
    // The root of 90 m by 110 m, by hand.
    expect(width('90 m')).toBeCloseTo(99.4987, 3);
  });
});

test('down-conductors: distances that cannot add up to the perimeter are refused', () => {
  const given: CaseGiven = { lpl: 'II', perimeter: '100 m', count: '5' };
  expect(runCase('down-conductors', { ...given, spacing: '15 m' }).faults).toHaveLength(1);
  expect(runCase('down-conductors', { ...given, spacing: '20 m' }).faults).toEqual([]);
});

test('insulated-down-conductor: at its permitted length the insulation just suffices', () => {
  const run = runCase('insulated-down-conductor', {
    lpl: 'I',
    equivalent_separation: '0.9 m',
    current_share: '0.5',
    length: '22.5 m',
  });
  expect(run.number('permitted_length')).toBeCloseTo(22.5, 12);
  expect(run.verdict('insulation')).toBe('complies');
  expect(run.number('bonding_levels')).toBe(0);
});

describe('lightning-parameters', () => {
  // Heidler functions of IEC 62305-1, Annex B (from memory): largest slopes found by an independent program.
  test.each([
    ['first-positive', 27.3],
    ['first-negative', 139.7],
    ['subsequent', 279],
  ])('%s at level I rises by up to %s kA/µs', (stroke, slope) => {
    const found = runCase('lightning-parameters', { lpl: 'I', stroke }).number('maximum_steepness') / 1e9;
    expect(Math.abs(found / slope - 1)).toBeLessThan(0.005);
  });

  test('half of the current: half the charge, a quarter of the energy', () => {
    const whole = runCase('lightning-parameters', { lpl: 'II' });
    const half = runCase('lightning-parameters', { lpl: 'II', share: '0.5' });
    expect(half.number('charge') / whole.number('charge')).toBeCloseTo(0.5, 12);
    expect(half.number('specific_energy') / whole.number('specific_energy')).toBeCloseTo(0.25, 12);
  });
});
