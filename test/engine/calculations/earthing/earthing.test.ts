import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { surfaceLayerFactorByImages } from '../../../../src/engine/physics/surface-layer-factor.ts';
import { type CaseGiven, runCase } from '../run-case.ts';

const span = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('electrode-length', () => {
  test('below 10 Ω the length of single electrodes is waived, and says so', () => {
    const given: CaseGiven = {
      lpl: 'I',
      resistivity: '1000 ohm m',
      arrangement: 'type-a',
      length: '8 m',
      count: '2',
    };
    expect(runCase('electrode-length', given).verdict('length')).toBe('does-not-comply');
    const run = runCase('electrode-length', { ...given, resistance: '9 ohm' });
    expect(run.verdict('length')).toBeUndefined();
    expect(run.cautions).toContain('low-resistance');
  });

  test('single electrodes: one at each down conductor, and at least two', () => {
    const count = (count: string, down_conductors?: string) =>
      runCase('electrode-length', {
        lpl: 'III',
        resistivity: '200 ohm m',
        arrangement: 'type-a',
        length: '6 m',
        count,
        ...(down_conductors === undefined ? {} : { down_conductors }),
      });
    expect(count('8', '11').verdict('count')).toBe('does-not-comply');
    expect(count('11', '11').verdict('count')).toBe('complies');
    expect(count('1', '1').verdict('count')).toBe('does-not-comply');
    expect(count('8').verdict('count')).toBe('cannot-be-judged');
    expect(count('8').missing('count')).toEqual(['down_conductors']);
  });

  test('electrodes that are added to a ring that is too small are counted too', () => {
    const ring: CaseGiven = {
      lpl: 'I',
      resistivity: '1500 ohm m',
      arrangement: 'type-b',
      area: '400 m^2',
      added_length: '30 m',
    };
    // 35 m are asked for, and the mean radius is 11.3 m.
    const few = runCase('electrode-length', { ...ring, count: '3', down_conductors: '6' });
    expect([few.verdict('added_length'), few.verdict('count')]).toEqual(['complies', 'does-not-comply']);
    const wide = runCase('electrode-length', { ...ring, area: '4000 m^2' });
    expect(wide.verdict('count')).toBeUndefined();
  });

  test('a ring needs its area', () => {
    const run = runCase('electrode-length', { lpl: 'I', resistivity: '100 ohm m', arrangement: 'type-b' });
    expect(run.faults.join()).toContain("'area'");
  });
});

test('impulse-earth-resistance: never above the resistance at low current, and falling with the current', () => {
  fc.assert(
    fc.property(span(1, 500), span(10, 5000), span(0.1, 150), (resistance, resistivity, current) => {
      const at = (factor: number) =>
        runCase('impulse-earth-resistance', {
          resistance: `${resistance} ohm`,
          resistivity: `${resistivity} ohm m`,
          current: `${current * factor} kA`,
        }).number('impulse_resistance');
      expect(at(1)).toBeLessThan(resistance);
      expect(at(1.2)).toBeLessThan(at(1));
    }),
    { numRuns: 25 },
  );
});

test('impulse-earth-resistance: a lead needs the front of the current', () => {
  const run = runCase('impulse-earth-resistance', {
    resistance: '5 ohm',
    resistivity: '100 ohm m',
    current: '10 kA',
    earth_lead: '10 m',
  });
  expect(run.faults.join()).toContain("'front_time'");
});

describe('touch-and-step-limits', () => {
  const soil: CaseGiven = { resistivity: '100 ohm m' };
  test.each<[CaseGiven, string]>([
    [{ ...soil, duration: '4 s' }, '0.03 s to 3 s'],
    [{ ...soil, duration: '0.5 s', body_mass: '60 kg' }, '50 kg and of 70 kg'],
    [{ method: 'en-50522', duration: '0.04 s' }, 'begins at 0.05 s'],
    [{ ...soil, duration: '0.5 s', surface_depth: '0.1 m' }, 'resistivity as well'],
  ])('%j is refused', (given, words) => {
    expect(runCase('touch-and-step-limits', given).faults.join()).toContain(words);
  });

  test('the table of EN 50522 needs neither soil nor person, and has no step voltage', () => {
    const run = runCase('touch-and-step-limits', { method: 'en-50522', duration: '0.5 s' });
    expect(run.number('touch_limit')).toBeCloseTo(220, 9);
    expect(run.result('step_limit')).toBe('not laid down');
  });

  test('by the series of images a thicker layer counts more, up to the factor of a layer without end', () => {
    fc.assert(
      fc.property(span(10, 500), span(1000, 5000), span(0.06, 0.3), (soil, surface, depth) => {
        const factor = surfaceLayerFactorByImages(soil, surface, depth);
        expect(factor).toBeGreaterThan(0);
        expect(surfaceLayerFactorByImages(soil, surface, depth * 1.1)).toBeGreaterThan(factor);
        expect(factor).toBeLessThan(1 / 0.96);
      }),
      { numRuns: 25 },
    );
  });
});

describe('earth-grid', () => {
  const grid: CaseGiven = {
    resistivity: '200 ohm m',
    current: '1 kA',
    length: '60 m',
    width: '40 m',
    conductors_along: '5',
    conductors_across: '7',
    depth: '0.6 m',
    conductor_diameter: '0.012 m',
  };

  test.each<[CaseGiven, string]>([
    [{ depth: '0.2 m' }, '0.25 m to 2.5 m'],
    [{ depth: '2.6 m' }, '0.25 m to 2.5 m'],
    [{ conductor_diameter: '0.15 m' }, 'quarter of their depth'],
    [{ rods: '4' }, "'rod_length'"],
  ])('%j is refused', (given, words) => {
    expect(runCase('earth-grid', { ...grid, ...given }).faults.join()).toContain(words);
  });

  test('meshes that are not square are cautioned', () => {
    expect(runCase('earth-grid', grid).cautions).not.toContain('validity-square-meshes');
    expect(runCase('earth-grid', { ...grid, conductors_across: '13' }).cautions).toContain(
      'validity-square-meshes',
    );
  });

  test('rods without a number are said to be left out', () => {
    expect(runCase('earth-grid', { ...grid, rod_length: '3 m' }).cautions).toContain('rods-not-counted');
    const counted = runCase('earth-grid', { ...grid, rod_length: '3 m', rods: '4' });
    expect(counted.cautions).not.toContain('rods-not-counted');
  });

  test('voltages scale with resistivity and current', () => {
    const base = runCase('earth-grid', grid);
    const twice = runCase('earth-grid', { ...grid, resistivity: '400 ohm m', current: '1.5 kA' });
    for (const name of ['mesh_voltage', 'step_voltage', 'potential_rise'])
      expect(twice.number(name) / base.number(name)).toBeCloseTo(3, 9);
  });

  // IEEE Std 80-1986, from memory: n is the larger number for the step voltage and the root of the product for the mesh voltage.
  test('edition of 1986: more conductors across raise the step voltage by their own number', () => {
    const given: CaseGiven = { ...grid, method: 'ieee-80-1986', length: '80 m', width: '15 m' };
    const run = runCase('earth-grid', { ...given, conductors_along: '2', conductors_across: '17' });
    expect(run.number('effective_number')).toBeCloseTo(Math.sqrt(34), 12);
    expect(run.number('step_number')).toBe(17);
    // By hand: 415 m of conductor, 5 m apart, 0.6 m deep.
    const factor = (1 / 1.2 + 1 / 5.6 + (1 - 0.5 ** 15) / 5) / Math.PI;
    expect(run.number('step_voltage')).toBeCloseTo((200 * 1000 * factor * (0.656 + 0.172 * 17)) / 415, 6);
    // With as many conductors in each direction both numbers are one.
    const even = runCase('earth-grid', { ...given, conductors_along: '6', conductors_across: '6' });
    expect(even.number('step_irregularity_factor')).toBeCloseTo(even.number('irregularity_factor'), 12);
  });

  test('rods far longer than the grid are not believed', () => {
    const deep: CaseGiven = { ...grid, length: '24 m', width: '18 m', rods: '6', rod_places: 'perimeter' };
    const run = (given: CaseGiven) => runCase('earth-grid', { ...deep, ...given });
    // The diagonal is 30 m.
    expect(run({ rod_length: '45 m' }).faults.join()).toContain('longer than the diagonal');
    expect(run({ rod_length: '45 m', method: 'ieee-80-1986' }).cautions).toContain('validity-long-rods');
    expect(run({ rod_length: '20 m' }).cautions).toContain('validity-long-rods');
    expect(run({ rod_length: '3 m' }).cautions).not.toContain('validity-long-rods');
  });

  test('perimeter rods lower resistance and mesh voltage', () => {
    const [without, with_] = [
      runCase('earth-grid', grid),
      runCase('earth-grid', { ...grid, rods: '10', rod_length: '3 m' }),
    ];
    for (const name of ['mesh_voltage', 'grid_resistance'])
      expect(with_.number(name)).toBeLessThan(without.number(name));
  });
});

describe('touch-and-step-precautions', () => {
  test.each<[CaseGiven, string, string]>([
    [{ occupancy: 'low' }, 'low occupancy', 'low occupancy'],
    [{ natural_columns: '10' }, 'natural down conductors', 'natural down conductors'],
    [{ surface: 'asphalt', surface_depth: '4 cm' }, 'none', 'none'],
    [{ surface: 'asphalt', surface_depth: '5 cm', contact_resistance: '99 kohm' }, 'none', 'none'],
    [{ equipotential_mesh: 'present' }, 'none', 'equipotential mesh'],
    [{ barriers: 'present' }, 'barriers and warning notices', 'barriers and warning notices'],
  ])('%j: %s, %s', (given, touch, step) => {
    const run = runCase('touch-and-step-precautions', { occupancy: 'normal', ...given });
    expect([run.result('touch_precaution'), run.result('step_precaution')]).toEqual([touch, step]);
  });

  test('each edition judges its own quantity', () => {
    const given: CaseGiven = { occupancy: 'normal', contact_resistance: '100 kohm' };
    expect(
      runCase('touch-and-step-precautions', { ...given, edition: 'iec-62305-3-2006' }).faults,
    ).toHaveLength(1);
  });
});
