import type { Evidence } from '../../definition/definition.ts';

/** Evidence for `earth-electrode`. */
export const earthElectrodeEvidence: readonly Evidence[] = [
  {
    kind: 'published',
    about: 'rod of 10 ft by 3/4 in in 100 ohm m: 32 ohm',
    source: 'MIL-HDBK-419A, volume II, p. 1-8',
    given: { kind: 'rod', resistivity: '100 ohm m', length: '10 ft', diameter: '0.75 in' },
    expect: { resistance: { value: '32 ohm', tolerance: '0.5 ohm' } },
  },
  {
    kind: 'published',
    about: 'rod of 3 m by 25 mm in 55 ohm m: 17.12 ohm, and the ratio of nine of them at 10 m',
    source: 'public earthing calculation to BS 7430 (scribd 683021852)',
    given: nineRods('bs-7430-2011'),
    expect: {
      rod_resistance: { value: '17.12 ohm', tolerance: '0.005 ohm' },
      spacing_ratio: { value: '0.0511', tolerance: '0.00005' },
    },
  },
  {
    kind: 'refuted',
    about: 'nine rods in a line do not follow the factor of two rods: 1.99 ohm is wrong',
    source: 'public earthing calculation to BS 7430 (scribd 683021852)',
    given: nineRods('bs-7430-2011'),
    expect: { resistance: { value: '1.99 ohm', tolerance: '0.01 ohm' } },
  },
  {
    kind: 'independent',
    about: 'nine rods in a line with their own factor',
    source: 'by hand, factor 3.61 from memory: 17.119 ohm * (1 + 3.61 * 0.05113) / 9 = 2.253 ohm',
    given: nineRods('bs-7430-2011'),
    expect: { resistance: { value: '2.253 ohm', tolerance: '0.0005 ohm' } },
  },
  {
    kind: 'refuted',
    about: 'plate of 600 mm by 600 mm in 100 ohm m: 290.14 ohm is wrong, its formula being no resistance',
    source: 'public blog on earthing (electricalnotes.wordpress.com, 2013/03, part 2)',
    given: plate600('is-3043-1987'),
    expect: { resistance: { value: '290.14 ohm', tolerance: '1 ohm' } },
  },
  {
    kind: 'independent',
    about: 'the same plate with both faces',
    source: 'by hand: 100 ohm m / 4 * sqrt(pi / 0.72 m^2) = 52.22 ohm',
    given: plate600('is-3043-1987'),
    expect: { resistance: { value: '52.22 ohm', tolerance: '0.005 ohm' } },
  },
  {
    kind: 'independent',
    about: 'the same plate with one face',
    source: 'by hand: 100 ohm m / 4 * sqrt(pi / 0.36 m^2) = 73.85 ohm',
    given: plate600('bs-7430-2011'),
    expect: { resistance: { value: '73.85 ohm', tolerance: '0.005 ohm' } },
  },
  {
    kind: 'memory',
    about: 'grid of 70 m by 70 m with 1540 m of conductor: 2.78 ohm',
    source: 'IEEE Std 80, Annex B.1 (from memory)',
    given: grid70('1540 m'),
    expect: { resistance: { value: '2.78 ohm', tolerance: '0.005 ohm' } },
  },
  {
    kind: 'memory',
    about: 'the same with 20 rods of 7.5 m: 2.75 ohm',
    source: 'IEEE Std 80, Annex B.2 (from memory)',
    given: grid70('1690 m'),
    expect: { resistance: { value: '2.75 ohm', tolerance: '0.005 ohm' } },
  },
  {
    kind: 'independent',
    about: 'IS 3043 of 1987 lies above BS 7430 by 1 - ln 2 in the bracket',
    source: 'by hand: 100 ohm m / (2 pi 3 m) * ln(4 * 3 m / 0.1 m) = 25.40 ohm',
    given: pipe('is-3043-1987'),
    expect: { resistance: { value: '25.40 ohm', tolerance: '0.005 ohm' } },
  },
  {
    kind: 'memory',
    about: 'the edition of 2018 agrees with BS 7430',
    source: 'IS 3043:2018 (from memory): 100 ohm m / (2 pi 3 m) * (ln(8 * 3 m / 0.1 m) - 1) = 23.77 ohm',
    given: pipe('is-3043-2018'),
    expect: { resistance: { value: '23.77 ohm', tolerance: '0.005 ohm' } },
  },
  {
    kind: 'independent',
    about: 'strip of 30 m by 25 mm, 0.6 m deep, by BS 7430',
    source:
      'by hand, in the older form with Q = -1: 100 / (2 pi 30) * (ln(2 * 900 / (0.025 * 0.6)) - 1) = 5.674 ohm; 1.36 is e/2 rounded',
    given: { kind: 'strip', resistivity: '100 ohm m', length: '30 m', width: '25 mm', depth: '0.6 m' },
    expect: { resistance: { value: '5.674 ohm', tolerance: '0.001 ohm' } },
  },
  {
    kind: 'independent',
    about: 'ring of 20 m, conductor of 10 mm, 0.5 m deep',
    source: 'by hand: 100 / (2 pi^2 20) * (ln(8 * 20 / 0.01) + ln(2 * 20 / 0.5)) = 3.562 ohm',
    given: {
      kind: 'ring',
      method: 'ieee-142',
      resistivity: '100 ohm m',
      ring_diameter: '20 m',
      diameter: '10 mm',
      depth: '0.5 m',
    },
    expect: { resistance: { value: '3.562 ohm', tolerance: '0.0005 ohm' } },
  },
  {
    kind: 'limiting-case',
    about: 'a plate far below the surface is the disc in unbounded soil: resistivity over eight radii',
    source: 'disc of 1 m radius (square of sqrt(pi) m): 100 ohm m / (8 * 1 m) = 12.5 ohm',
    given: {
      kind: 'plate',
      method: 'ieee-142',
      resistivity: '100 ohm m',
      length: '1.77245385 m',
      width: '1772.45385 mm',
      depth: '100 km',
    },
    expect: { resistance: { value: '12.5 ohm', tolerance: '0.0001 ohm' } },
  },
  {
    kind: 'limiting-case',
    about: 'rods far from each other share the current equally',
    source: '17.119 ohm / 9 = 1.9021 ohm',
    given: { ...nineRods('bs-7430-2011'), spacing: '1000 km' },
    expect: { resistance: { value: '1.9021 ohm', tolerance: '0.0001 ohm' } },
  },
];

function nineRods(method: string) {
  const rod = { resistivity: '55 ohm m', length: '3 m', diameter: '25 mm' };
  return { kind: 'rods-in-line', method, ...rod, count: '9', spacing: '10 m' };
}

function plate600(method: string) {
  return { kind: 'plate', method, resistivity: '100 ohm m', length: '0.6 m', width: '600 mm' };
}

function pipe(method: string) {
  return { kind: 'pipe', method, resistivity: '100 ohm m', length: '3 m', diameter: '100 mm' };
}

function grid70(total_length: string) {
  const grid = { kind: 'grid', method: 'ieee-80', resistivity: '400 ohm m', area: '4900 m^2' };
  return { ...grid, total_length, depth: '0.5 m' };
}
