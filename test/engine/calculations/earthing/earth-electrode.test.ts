import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from '../run-case.ts';

const NAME = 'earth-electrode';
const SOIL: CaseGiven = { resistivity: '100 ohm m' };
const KINDS: Readonly<Record<string, CaseGiven>> = {
  rod: { kind: 'rod', length: '3 m', diameter: '16 mm' },
  pipe: { kind: 'pipe', length: '3 m', diameter: '100 mm' },
  'rods-in-line': { kind: 'rods-in-line', length: '3 m', diameter: '16 mm', count: '4', spacing: '4 m' },
  strip: { kind: 'strip', length: '30 m', width: '40 mm', thickness: '4 mm', depth: '0.6 m' },
  plate: { kind: 'plate', length: '0.9 m', width: '900 mm', depth: '1.5 m' },
  ring: { kind: 'ring', ring_diameter: '20 m', diameter: '10 mm', depth: '0.6 m' },
  grid: { kind: 'grid', area: '900 m^2', total_length: '360 m', depth: '0.6 m' },
};
const METHODS: Readonly<Record<string, readonly string[]>> = {
  'bs-7430-2011': ['rod', 'pipe', 'rods-in-line', 'strip', 'plate'],
  'is-3043-1987': ['rod', 'pipe', 'rods-in-line', 'strip', 'plate'],
  'is-3043-2018': ['rod', 'pipe', 'rods-in-line', 'strip', 'plate'],
  'ieee-142': ['rod', 'pipe', 'rods-in-line', 'strip', 'plate', 'ring'],
  'ieee-80': ['grid'],
};
const PAIRS = Object.entries(METHODS).flatMap(([method, served]) =>
  Object.keys(KINDS).map((kind) => [method, kind, served.includes(kind)] as const),
);

test.each(PAIRS)('%s with %s: %s', (method, kind, served) => {
  const run = runCase(NAME, { ...SOIL, ...KINDS[kind], method });
  if (served) expect(run.number('resistance')).toBeGreaterThan(0);
  else expect(run.faults).toEqual([expect.stringContaining('write ')]);
});

describe('refused, each for one reason', () => {
  test.each<[string, CaseGiven, string]>([
    ['rods-in-line', { count: '11' }, 'ends at 10 rods'],
    ['rods-in-line', { count: '5', method: 'ieee-142' }, 'covers 2, 3, 4, 8'],
    ['rods-in-line', { spacing: '2 m', method: 'ieee-142' }, 'at least their own length'],
    ['rod', { diameter: '400 mm' }, 'ten diameters'],
    ['strip', { depth: '8 m' }, 'four times'],
    ['strip', { width: '2 m' }, 'twenty widths'],
    ['strip', { cross_section: 'round', diameter: '500 mm' }, 'hundred diameters'],
    ['strip', { thickness: '10 mm', method: 'ieee-142' }, 'one eighth'],
    ['ring', { depth: '6 m', method: 'ieee-142' }, 'four times'],
    ['plate', { depth: '0.4 m', method: 'ieee-142' }, 'radius of the disc'],
    ['grid', { depth: '3 m', method: 'ieee-80' }, '0.25 m to 2.5 m'],
    ['grid', { total_length: '100 m', method: 'ieee-80' }, 'once around'],
  ])('%s %j', (kind, given, reason) => {
    expect(runCase(NAME, { ...SOIL, ...KINDS[kind], ...given }).faults).toEqual([
      expect.stringContaining(reason),
    ]);
  });
});

test('rods nearer than their length print a caution', () => {
  const run = runCase(NAME, { ...SOIL, ...KINDS['rods-in-line'], spacing: '2 m' });
  expect(run.cautions.some((id) => id.startsWith('validity'))).toBe(true);
});

test.each([
  ['6', '80 mm', 'bs-7430-2011'],
  ['3', '0.4 m', 'is-3043-1987'],
  ['10', '0.9 m', 'is-3043-2018'],
])('%s rods %s apart by %s: too near for the formula', (count, spacing, method) => {
  const run = runCase(NAME, { ...SOIL, ...KINDS['rods-in-line'], count, spacing, method });
  expect(run.faults).toEqual([expect.stringContaining('do not overlap')]);
});

test('wherever the formula for rods in parallel is let to hold they have less together than one has alone', () => {
  const given = {
    resistivity: fc.double({ min: 5, max: 5000, noNaN: true }),
    length: fc.double({ min: 0.5, max: 30, noNaN: true }),
  };
  fc.assert(
    fc.property(
      fc.record({
        ...given,
        count: fc.integer({ min: 2, max: 10 }),
        part: fc.double({ min: 0.01, max: 3, noNaN: true }),
      }),
      (one) => {
        const run = runCase(NAME, {
          kind: 'rods-in-line',
          diameter: '16 mm',
          resistivity: `${one.resistivity} ohm m`,
          length: `${one.length} m`,
          count: String(one.count),
          spacing: `${one.part * one.length} m`,
        });
        if (run.faults.length === 0)
          expect(run.number('resistance')).toBeLessThan(run.number('rod_resistance'));
      },
    ),
    { numRuns: 60 },
  );
});

test('one plate in both schools: the root of two apart', () => {
  const by = (method: string) => runCase(NAME, { ...SOIL, ...KINDS.plate, method }).number('resistance');
  expect(by('bs-7430-2011') / by('is-3043-1987')).toBeCloseTo(Math.SQRT2, 12);
});

test('the round conductor of the formula by Dwight and of BS 7430 agree within 1 %', () => {
  const round: CaseGiven = { ...SOIL, ...KINDS.strip, cross_section: 'round', diameter: '10 mm' };
  const by = (method: string) => runCase(NAME, { ...round, method }).number('resistance');
  expect(by('ieee-142') / by('bs-7430-2011')).toBeCloseTo(1, 2);
});

test('resistance is proportional to resistivity and falls with the length of a rod', () => {
  const rod = (rho: number, length: number) =>
    runCase(NAME, { ...KINDS.rod, resistivity: `${rho} ohm m`, length: `${length} m` }).number('resistance');
  fc.assert(
    fc.property(
      fc.double({ min: 1, max: 1e4, noNaN: true }),
      fc.double({ min: 0.5, max: 50, noNaN: true }),
      (rho, length) => {
        expect(rod(2 * rho, length) / rod(rho, length)).toBeCloseTo(2, 9);
        expect(rod(rho, 1.01 * length)).toBeLessThan(rod(rho, length));
      },
    ),
    { numRuns: 20 },
  );
});

test('the shortest rod that meets the required resistance lies within the validity of the formula', () => {
  const run = runCase(NAME, { ...SOIL, ...KINDS.rod, required_resistance: '20 ohm' });
  expect(run.verdict('required_resistance')).toBe('does-not-comply');
  const limiting = run.evaluated?.limiting.find(({ given }) => given === 'length')?.result;
  if (limiting?.type !== 'number') throw new Error('no limiting length');
  const longer = runCase(NAME, {
    ...SOIL,
    ...KINDS.rod,
    length: `${limiting.si} m`,
    required_resistance: '20 ohm',
  });
  expect(longer.verdict('required_resistance')).toBe('complies');
});
