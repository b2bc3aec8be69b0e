import type { Evidence } from '../../definition/definition.ts';

/** A rod at the centre of a building of 30 m by 12 m, 10 m high, sphere of 45 m. */
const CENTRE_ROD = {
  sphere_radius: '45 m',
  rod_height: '38 m',
  object_height: '10 m',
  required_radius: '16.155 m',
};

/** Evidence for `rolling-sphere`. */
export const rollingSphereEvidence: readonly Evidence[] = [
  ...radiiOfClasses(),
  {
    kind: 'published',
    about: 'sphere 30 m, rod 30 m, object 15.5 m: 3.736 m',
    source: 'rolling-sphere calculation in a trade forum (asp.cn, thread 14932)',
    given: { sphere_radius: '30 m', rod_height: '30 m', object_height: '15.5 m' },
    expect: {
      protected_radius: {
        value: '3.736 m',
        tolerance: '0.001 m',
        because: 'the source cuts off 3.7369 after the third decimal',
      },
    },
  },
  {
    kind: 'published',
    about: 'sphere 30 m, supports 30 m high and 29 m apart: lowest protected height 26.2 m',
    source: 'rolling-sphere calculation in a trade forum (asp.cn, thread 14932)',
    given: { sphere_radius: '30 m', rod_height: '30 m', spacing: '29 m' },
    expect: {
      lowest_protected_height: {
        value: '26.2 m',
        tolerance: '0.1 m',
        because: 'the source cuts off 26.26 after the first decimal',
      },
    },
  },
  {
    kind: 'published',
    about: 'sphere 45 m, object 4 m, radius 6.5 m: a rod of 7.6 m',
    source: 'examination problem on lightning protection (gaojiufeng.cn, id 2577876)',
    given: { lpl: 'III', rod_height: '7.7 m', object_height: '4 m', required_radius: '6.5 m' },
    expect: {
      required_rod_height: { value: '7.6 m', tolerance: '0.05 m' },
      radius: { verdict: 'complies' },
    },
  },
  {
    kind: 'refuted',
    about: 'a printed answer of 23 m for sphere 45 m, object 2 m, radius 8 m: the root was taken wrongly',
    source: 'examination problem on lightning protection (gaojiufeng.cn, id 2577868); correct is 5.34 m',
    given: { lpl: 'III', rod_height: '23 m', object_height: '2 m', required_radius: '8 m' },
    expect: { required_rod_height: { value: '23 m', tolerance: '0.5 m' } },
  },
  ...dips(),
  {
    kind: 'refuted',
    about:
      'a printed answer of 38.31 m for sphere 45 m and a building of 30 m by 12 m by 10 m: one per cent off',
    source:
      'examination problem on lightning protection (gaojiufeng.cn, id 2577872); the rod at the centre must cover a corner √(15² + 6²) m = 16.155 m away',
    given: CENTRE_ROD,
    expect: { required_rod_height: { value: '38.31 m', tolerance: '0.2 m' } },
  },
  {
    kind: 'independent',
    about: 'the same problem as recomputed: 37.92 m',
    source: '16.155 m + √(10 · 80) m = 44.440 m; 45 m − √(45² − 44.440²) m = 37.92 m by hand',
    given: CENTRE_ROD,
    expect: { required_rod_height: { value: '37.92 m', tolerance: '0.005 m' } },
  },
  {
    kind: 'limiting-case',
    about: 'at its own tip a rod protects nothing',
    source: 'the sphere touches the tip',
    given: { lpl: 'I', rod_height: '10 m', object_height: '10 m' },
    expect: { protected_radius: { words: 'no protected area' } },
  },
  {
    kind: 'limiting-case',
    about: 'a rod higher than the radius protects on the ground as far as the radius',
    source: 'the sphere rolls up to the rod with its centre level with the radius',
    given: { lpl: 'I', rod_height: '35 m' },
    expect: { protected_radius: { value: '20 m', tolerance: '0 m' } },
  },
];

/** Radius of the sphere and width of the mesh for each class, as the quick reference to IS/IEC 62305-3 prints them. */
function radiiOfClasses(): Evidence[] {
  const classes = [
    ['I', '20 m', '5 m'],
    ['II', '30 m', '10 m'],
    ['III', '45 m', '15 m'],
    ['IV', '60 m', '20 m'],
  ] as const;
  return classes.map(([lpl, radius, mesh]) => ({
    kind: 'published',
    about: `class ${lpl}: sphere of ${radius}, mesh of ${mesh}`,
    source: 'quick reference to IS/IEC 62305-3:2010 (infralens.in): 20, 30, 45, 60 m and 5, 10, 15, 20 m',
    given: { lpl, rod_height: '3 m' },
    expect: {
      sphere_radius: { value: radius, tolerance: '0 m' },
      mesh_width: { value: mesh, tolerance: '0 m' },
    },
  }));
}

/** Dip of the sphere between two supports, in m: a table as remembered; it agrees with the formula. */
function dips(): Evidence[] {
  const table: readonly (readonly [spacing: string, dips: readonly string[]])[] = [
    ['4 m', ['0.10', '0.07', '0.04', '0.03']],
    ['10 m', ['0.64', '0.42', '0.28', '0.21']],
    ['15 m', ['1.46', '0.95', '0.63', '0.47']],
    ['20 m', ['2.68', '1.72', '1.13', '0.84']],
  ];
  const classes = ['I', 'II', 'III', 'IV'] as const;
  return table.flatMap(([spacing, row]) =>
    row.map(
      (dip, column): Evidence => ({
        kind: 'memory',
        about: `class ${classes[column]}, supports ${spacing} apart: the sphere dips ${dip} m`,
        source:
          'table of penetration depths for IEC 62305-3, values from memory; they agree with the formula',
        given: { lpl: classes[column]!, rod_height: '5 m', spacing },
        expect: { penetration: { value: `${dip} m`, tolerance: '0.005 m' } },
      }),
    ),
  );
}
