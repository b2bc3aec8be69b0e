import type { Evidence } from '../../definition/definition.ts';

/** Evidence for `separation-distance`. */
export const separationDistanceEvidence: readonly Evidence[] = [
  ...coefficientsOfClasses(),
  {
    kind: 'independent',
    about: 'class III, five down conductors, 10 m through masonry: 0.352 m',
    source: '0.04 · 0.44 · 10 m / 0.5 = 0.352 m by hand',
    given: { lpl: 'III', material: 'solid', length: '10 m', method: 'simplified', count: '5' },
    expect: { separation_distance: { value: '0.352 m', tolerance: '0 m' } },
  },
  {
    kind: 'published',
    about: 'share for two down conductors: 0.66',
    source: 'examination problem on lightning protection (gaojiufeng.cn, id 2578056)',
    given: { lpl: 'I', material: 'air', length: '10 m', method: 'simplified', count: '2' },
    expect: { current_share: { value: '0.66', tolerance: '0.005' } },
  },
  {
    kind: 'published',
    about:
      'GB 50057, isolated rod, impulse resistance 4 Ω, point 6 m high: 1.84 m in air, so that 3 m govern',
    source: 'examination problem on lightning protection (gaojiufeng.cn, id 2578026)',
    given: { standard: 'gb-50057', length: '6 m', impulse_resistance: '4 ohm' },
    expect: {
      distance_by_resistance: { value: '1.84 m', tolerance: '0.005 m' },
      separation_distance: { value: '3 m', tolerance: '0 m' },
    },
  },
  {
    kind: 'published',
    about: 'GB 50057, in the ground, 10 Ω over a factor of 1.4: 2.86 m, so that 3 m govern',
    source: 'examination problem on lightning protection (gaojiufeng.cn, id 2578023)',
    given: {
      standard: 'gb-50057',
      length: '6 m',
      impulse_resistance: '7.142857 ohm',
      ground_gap: '2.9 m',
    },
    expect: {
      ground_distance_by_resistance: { value: '2.86 m', tolerance: '0.005 m' },
      ground_separation: { value: '3 m', tolerance: '0 m' },
      ground_gap: { verdict: 'does-not-comply' },
    },
  },
  {
    kind: 'independent',
    about: 'NFPA 780: 60 ft, three down conductors in the zone: 4.44 ft in air, 2.22 ft in solid material',
    source:
      '60 ft / (6 · 2.25) = 4.444 ft = 1.3547 m by hand from the formula, which study cards print without its edition (freezingblue.com, set 153467)',
    given: { standard: 'nfpa-780', material: 'air', length: '18.288 m', conductors_in_zone: '3' },
    expect: { separation_distance: { value: '1.3547 m', tolerance: '0.00005 m' } },
  },
  {
    kind: 'independent',
    about: 'NFPA 780: the same through solid material',
    source:
      '60 ft / (6 · 2.25) · 0.5 = 2.222 ft = 0.67733 m by hand from the formula, which study cards print without its edition (freezingblue.com, set 153467)',
    given: { standard: 'nfpa-780', material: 'solid', length: '18.288 m', conductors_in_zone: '3' },
    expect: { separation_distance: { value: '0.67733 m', tolerance: '0.000005 m' } },
  },
  {
    kind: 'independent',
    about: 'roof with four down conductors as far apart as they are high: 0.425',
    source: '1/8 + 0.1 + 0.2 · 1 = 0.425 by hand',
    given: {
      lpl: 'II',
      material: 'air',
      length: '12 m',
      method: 'roof',
      count: '4',
      spacing: '12 m',
      height: '12 m',
    },
    expect: {
      current_share: { value: '0.425', tolerance: '0' },
      separation_distance: { value: '0.306 m', tolerance: '0 m' },
    },
  },
  {
    kind: 'independent',
    about: 'two pieces of path: the shares multiply their own lengths',
    source: '0.06/1 · (1 · 3 m + 0.5 · 10 m) = 0.48 m by hand',
    given: {
      lpl: 'II',
      material: 'air',
      path: [
        { length: '3 m', share: 1 },
        { length: '10 m', share: 0.5 },
      ],
      gap: '0.48 m',
    },
    expect: {
      separation_distance: { value: '0.48 m', tolerance: '0 m' },
      gap: { verdict: 'complies' },
    },
  },
  {
    kind: 'limiting-case',
    about: 'a ridge much longer than it is high carries the whole current to the near end',
    source: '(h + c)/(2h + c) tends to 1 as c grows',
    given: {
      lpl: 'IV',
      material: 'air',
      length: '5 m',
      method: 'ridge',
      height: '1 mm',
      spacing: '100 m',
    },
    expect: { current_share: { value: '1', tolerance: '0.00002' } },
  },
  {
    kind: 'limiting-case',
    about: 'a ridge much higher than it is long divides the current in halves',
    source: '(h + c)/(2h + c) tends to 1/2 as c vanishes',
    given: {
      lpl: 'IV',
      material: 'air',
      length: '5 m',
      method: 'ridge',
      height: '100 m',
      spacing: '1 mm',
    },
    expect: { current_share: { value: '0.5', tolerance: '0.00001' } },
  },
  {
    kind: 'limiting-case',
    about: 'layers of air alone count as air',
    source: 'a weighted mean of ones is one',
    given: {
      lpl: 'I',
      layers: [
        { thickness: '0.1 m', factor: 1 },
        { thickness: '0.3 m', factor: 1 },
      ],
      length: '10 m',
      current_share: '0.44',
    },
    expect: { separation_distance: { value: '0.352 m', tolerance: '0 m' } },
  },
];

/** Coefficients of the class, the material and the number of down conductors. */
function coefficientsOfClasses(): Evidence[] {
  const rows = [
    ['I', '0.08', 'air', '1', '1', '1'],
    ['II', '0.06', 'solid', '0.5', '2', '0.66'],
    ['III', '0.04', 'air', '1', '3', '0.44'],
    ['IV', '0.04', 'solid', '0.5', '4', '0.44'],
  ] as const;
  return rows.flatMap(([lpl, induction, material, factor, count, share]): Evidence[] => {
    const given = { lpl, material, length: '10 m', method: 'simplified', count };
    return [
      {
        kind: 'published',
        about: `class ${lpl}: ki ${induction}`,
        source: 'quick reference to IS/IEC 62305-3:2010 (infralens.in)',
        given,
        expect: { induction_coefficient: { value: induction, tolerance: '0' } },
      },
      {
        kind: 'memory',
        about: `${material}: km ${factor}; down conductors, ${count} in number: kc ${share}`,
        source: 'IEC 62305-3:2010, Tables 11 and 12, values from memory',
        given,
        expect: {
          material_factor: { value: factor, tolerance: '0' },
          current_share: { value: share, tolerance: '0' },
        },
      },
    ];
  });
}
