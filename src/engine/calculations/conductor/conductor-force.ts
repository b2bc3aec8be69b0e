import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { drawParallelForce } from '../../figures/force-sketches.ts';

const parallelForce = recall('iec-62305-1-2010', 'D.4.2.1, force between parallel conductors');

/** Force between two parallel conductors at the peak of the current. */
export const conductorForce = defineCalculation({
  name: 'conductor-force',
  title: 'Force between parallel conductors',
  purpose:
    'Finds the force between two parallel conductors while a lightning current flows in both, and the part of it ' +
    'that each fixing carries. Currents in the same direction draw the conductors together, opposite currents push them apart.',
  answers: ['With which force do two parallel conductors pull or push each other?'],
  example: `
    id: parallel-conductors
    title: Forces on the parallel down conductors
    given:
      current: { value: 25 kA, source: "share of the lightning current" }
      direction: same
      spacing: { value: 0.1 m, source: "measured on site" }
      length: { value: 3 m, source: "measured on site" }
      fixing_distance: { value: 1 m, source: "measured on site" }
      fixing_strength: { value: 500 N, source: "data sheet of the clip" }
  `,
  givens: {
    current: {
      type: 'quantity',
      symbol: 'I',
      meaning: 'peak of the current in each conductor',
      note: 'the current of each conductor, not their sum: where a stroke divides between two conductors each carries half',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: {
        from: '0.1 kA',
        to: '200 kA',
        because:
          'the severest first stroke of IEC 62305-1 has 200 kA; below 100 A the force on a fixing is negligible',
      },
    },
    second_current: {
      type: 'quantity',
      symbol: 'I_2',
      meaning: 'peak of the current in the second conductor, where it differs',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: {
        from: '0.1 kA',
        to: '200 kA',
        because:
          'the severest first stroke of IEC 62305-1 has 200 kA; below 100 A the force on a fixing is negligible',
      },
    },
    direction: {
      type: 'choice',
      symbol: '\\text{direction}',
      meaning: 'direction of the two currents',
      options: {
        same: 'the same direction: the conductors attract each other',
        opposite: 'opposite directions: the conductors repel each other',
      },
      default: { value: 'same', basis: commonPractice('parallel down conductors share the current') },
    },
    spacing: {
      type: 'quantity',
      symbol: 'd',
      meaning: 'distance between the axes of the conductors',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '5 mm',
        to: '10 m',
        because: 'closer ones touch, and the force between ones farther apart is negligible',
      },
    },
    length: {
      type: 'quantity',
      symbol: '\\ell',
      meaning: 'length over which they run side by side',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '0.1 m',
        to: '200 m',
        because: 'conductors run side by side over decimetres to the height of a structure',
      },
    },
    fixing_distance: {
      type: 'quantity',
      symbol: 'a',
      meaning: 'distance from fixing to fixing',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '0.1 m',
        to: '3 m',
        because: 'fixings sit some decimetres to about one metre apart (common practice)',
      },
    },
    fixing_strength: {
      type: 'quantity',
      symbol: 'F_\\mathrm{max}',
      meaning: 'force that a fixing withstands across the conductor',
      unit: 'N',
      permitted: { above: '0 N' },
      usual: {
        from: '50 N',
        to: '50 kN',
        because: 'fixings withstand hundreds of newtons to kilonewtons (common practice)',
      },
    },
  },
  steps: {
    force_per_length: {
      symbol: "F'",
      meaning: 'force per length at the peak of the current',
      unit: 'N/m',
      basis: parallelForce,
      variants: [
        { when: 'given second_current', formula: '2e-7 H/m * current * second_current / spacing' },
        { formula: '2e-7 H/m * current^2 / spacing' },
      ],
    },
    force: {
      symbol: 'F',
      meaning: 'force over the whole length at the peak of the current',
      unit: 'N',
      basis: parallelForce,
      formula: 'force_per_length * length',
    },
    fixing_force: {
      symbol: 'F_\\mathrm{a}',
      meaning: 'force on one of many fixings',
      unit: 'N',
      basis: derivation(
        'each fixing carries the length from the middle of one span to the middle of the next',
      ),
      optional: true,
      formula: 'force_per_length * fixing_distance',
    },
    stiff_fixing_force: {
      symbol: 'F_\\mathrm{a,2}',
      meaning: 'force on the middle one of three fixings of a stiff conductor',
      unit: 'N',
      basis: derivation(
        'middle support of a uniformly loaded beam over two equal spans: 5/4 of the load of a span',
      ),
      optional: true,
      formula: '1.25 * fixing_force',
    },
  },
  checks: {
    fixing_strength: {
      criterion: 'Force on a fixing against its strength',
      value: 'fixing_force',
      relation: '<=',
      limit: 'fixing_strength',
      competing: [
        {
          meaning: 'the middle one of three fixings of a stiff conductor, which takes more than its span',
          value: 'stiff_fixing_force',
        },
      ],
      force: 'requirement',
      basis: commonPractice('fixings must withstand the peak force'),
      remedies: [
        'Set the fixings closer together: the force on each falls in proportion to their distance.',
        'Run the conductors farther apart: the force falls in inverse proportion to their spacing.',
        'Use fixings of higher strength, tested with lightning current.',
        'Divide the current among further conductors: the force falls with the product of the currents. Existing conductors stay connected.',
      ],
    },
  },
  validity: {
    'long-conductors': {
      requires: 'length >= 10 * spacing',
      otherwise: 'caution',
      text: 'the formula is that of long conductors; for a length below ten times the spacing it overstates the force',
      basis: parallelForce,
    },
  },
  cautions: {
    'peak-force': {
      text: 'This is the force at the peak of the current. A flexible conductor responds only in part to so short an impulse; a stiff one, with a natural period shorter than the stroke, takes the full force, and up to twice this force where the current rises faster than that period.',
      basis: recall('iec-62305-1-2010', 'D.4.2.1, damping and natural oscillation'),
    },
    attraction: {
      when: 'direction is same',
      text: 'The conductors attract each other.',
    },
    repulsion: {
      when: 'direction is opposite',
      text: 'The conductors repel each other.',
    },
  },
  limiting: [
    {
      given: 'fixing_distance',
      seek: 'largest',
      meaning: 'largest distance between fixings',
    },
    {
      given: 'spacing',
      seek: 'smallest',
      meaning: 'smallest distance between the conductors, other values unchanged',
    },
  ],
  figure: { caption: 'The two conductors and the force on each metre of them', draw: drawForce },
  evidence: [
    {
      kind: 'published',
      about: '100 kA in each of two conductors 10 cm apart, 5 m long: about 100 000 N',
      source: 'educational page on the mechanical effects of lightning (library.thinkquest.org/C0130320)',
      given: { current: '100 kA', spacing: '10 cm', length: '5 m' },
      expect: {
        force: { value: '100000 N', tolerance: '500 N', because: 'the source says "about"' },
      },
    },
    {
      kind: 'published',
      about: '4 A and 6 A, 3 cm apart, 15 cm long: 2.4e-5 N',
      source: 'Kulshreshtha, electrical engineering textbook, example 5.4, p. 148',
      given: { current: '4 A', second_current: '6 A', spacing: '3 cm', length: '15 cm' },
      expect: { force: { value: '2.4e-5 N', tolerance: '0.05e-5 N' } },
    },
    {
      kind: 'published',
      about: '1000 A and 300 A, 2 m apart: 30 mN/m',
      source: 'Robertson, electrical engineering textbook, example 5.12, p. 158',
      given: { current: '1000 A', second_current: '300 A', spacing: '2 m', length: '100 m' },
      expect: { force_per_length: { value: '0.030 N/m', tolerance: '0.0005 N/m' } },
    },
    {
      kind: 'published',
      about: '300 A each, 1.5 cm apart: 1.2 N/m',
      source: 'Gupta, Modern Physics, example 12.13, p. 381',
      given: { current: '300 A', spacing: '1.5 cm', length: '1 m' },
      expect: { force_per_length: { value: '1.2 N/m', tolerance: '0.05 N/m' } },
    },
    {
      kind: 'limiting-case',
      about: 'the current divided between two conductors leaves a quarter of the force',
      source: 'force goes with the square of the current in each: 50 kA against 100 kA',
      given: { current: '50 kA', spacing: '10 cm', length: '5 m' },
      expect: { force: { value: '25000 N', tolerance: '0 N' } },
    },
  ],
});

function drawForce(view: FigureView): string {
  const first = `*I* = ${view.shown('current')}`;
  const same = view.choice('direction') === 'same';
  return drawParallelForce({
    title: `Two conductors ${view.shown('spacing')} apart, side by side over ${view.shown('length')}, ${same ? 'attract' : 'repel'} each other with ${view.shown('force_per_length')}, ${view.shown('force')} in all.`,
    currents: [first, view.has('second_current') ? `*I*_{2} = ${view.shown('second_current')}` : first],
    spacing: { length: view.number('spacing'), shown: `*d* = ${view.shown('spacing')}` },
    length: { length: view.number('length'), shown: `*ℓ* = ${view.shown('length')}` },
    force: `*F* = ${view.shown('force')}`,
    perLength: { size: view.number('force_per_length'), shown: `*F*' = ${view.shown('force_per_length')}` },
    sameDirection: same,
  });
}
