import { commonPractice, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence } from '../../definition/definition.ts';
import { protectionLevel } from '../../tables/protection-level.ts';

const lengthByClass = recall('iec-62305-3-2010', 'Figure 3, minimum length by class and resistivity');
const typeA = recall('iec-62305-3-2010', '5.4.2.1, type A arrangement');
const typeB = recall('iec-62305-3-2010', '5.4.2.2, type B arrangement');
const additional = recall('iec-62305-3-2010', '5.4.2.2, additional electrodes');

/** Minimum length of earth electrodes of a lightning protection system. */
export const electrodeLength = defineCalculation({
  name: 'electrode-length',
  title: 'Length of earth electrodes',
  purpose:
    'Finds the minimum length of the earth electrodes of a lightning protection system by its class and the resistivity ' +
    'of the soil: of single electrodes (type A), or of a ring or foundation electrode by the area that it encloses ' +
    '(type B), with the electrodes that must be added where that area is too small.',
  answers: ['How long must the earth electrodes of a lightning protection system be?'],
  example: `
    id: ring-electrode-length
    title: Length of the ring earth electrode
    given:
      lpl: II
      resistivity: { value: 900 ohm m, source: "four-electrode readings" }
      arrangement: type-b
      area: { value: 1000 m^2, source: "drawing A-101" }
      down_conductors: 9
      share_in_soil: { value: 90 %, source: "drawing E-301" }
  `,
  givens: {
    lpl: protectionLevel,
    resistivity: {
      type: 'quantity',
      symbol: '\\rho',
      meaning: 'resistivity of the soil',
      unit: 'ohm m',
      permitted: { above: '0 ohm m' },
      usual: {
        from: '5 ohm m',
        to: '3000 ohm m',
        because: 'wet clay has some Ω m, and the figure of the standard ends at 3000 Ω m (from memory)',
      },
    },
    arrangement: {
      type: 'choice',
      symbol: '\\text{arrangement}',
      meaning: 'arrangement of the earth termination',
      options: {
        'type-a': 'single horizontal or vertical electrodes, one for each down conductor',
        'type-b': 'a ring around the structure in contact with the soil, or a foundation electrode',
      },
    },
    electrode_kind: {
      type: 'choice',
      symbol: '\\text{electrode}',
      meaning: 'direction of the single, or of the additional electrodes',
      options: { horizontal: 'horizontal (radial)', vertical: 'vertical or inclined' },
      default: { value: 'horizontal', basis: commonPractice('the longer of the two lengths') },
    },
    length: {
      type: 'quantity',
      symbol: '\\ell',
      meaning: 'length of each single electrode (type A)',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '0.5 m',
        to: '100 m',
        because: 'rods and radials are metres to tens of metres long (common practice)',
      },
    },
    count: {
      type: 'quantity',
      symbol: 'n',
      meaning: 'number of single electrodes (type A), or of those that are added to the ring (type B)',
      unit: '1',
      whole: true,
      permitted: { from: '1' },
      usual: { to: '200', because: 'structures have at most some hundred down conductors' },
    },
    down_conductors: {
      type: 'quantity',
      symbol: 'n_\\mathrm{d}',
      meaning: 'number of down conductors that need an electrode',
      unit: '1',
      whole: true,
      permitted: { from: '1' },
      usual: { to: '200', because: 'structures have at most some hundred down conductors' },
    },
    resistance: {
      type: 'quantity',
      symbol: 'R',
      meaning: 'measured resistance of the earth termination',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: {
        from: '0.2 ohm',
        to: '1000 ohm',
        because: 'earth terminations have some ohms to hundreds of ohms (common practice)',
      },
    },
    area: {
      type: 'quantity',
      symbol: 'A',
      meaning: 'area that the ring or foundation electrode encloses (type B)',
      unit: 'm^2',
      permitted: { above: '0 m^2' },
      usual: {
        from: '4 m^2',
        to: '100000 m^2',
        because: 'buildings cover some square metres to ten hectares',
      },
    },
    added_length: {
      type: 'quantity',
      symbol: '\\ell_\\mathrm{a}',
      meaning: 'length of each electrode that is added to the ring (type B)',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: {
        from: '0.5 m',
        to: '100 m',
        orNone: true,
        because: 'rods and radials are metres to tens of metres long (common practice)',
      },
      default: { value: '0 m', basis: commonPractice('the ring or foundation electrode alone') },
    },
    share_in_soil: {
      type: 'quantity',
      symbol: 's',
      meaning: 'part of the ring in contact with the soil',
      unit: '%',
      permitted: { above: '0 %', to: '100 %' },
      usual: {
        from: '10 %',
        because: 'a ring with less than a tenth of its length in the soil is no ring electrode',
      },
    },
  },
  steps: {
    minimum_length: {
      symbol: '\\ell_1',
      meaning: 'minimum length by class and resistivity',
      unit: 'm',
      rounded: 'up',
      basis: lengthByClass,
      variants: [
        {
          when: 'lpl is I',
          formula: 'max(5, 0.03 * resistivity - 10)',
          numeric: { resistivity: 'ohm m' },
        },
        {
          when: 'lpl is II',
          formula: 'max(5, 0.02 * resistivity - 11)',
          numeric: { resistivity: 'ohm m' },
        },
        { formula: '5 m', note: 'classes III and IV: whatever the resistivity' },
      ],
    },
    required_length: {
      symbol: '\\ell_\\mathrm{req}',
      meaning: 'required length of each single electrode',
      unit: 'm',
      rounded: 'up',
      basis: typeA,
      when: 'arrangement is type-a',
      variants: [
        { when: 'electrode_kind is vertical', formula: 'minimum_length / 2' },
        { formula: 'minimum_length' },
      ],
    },
    required_count: {
      symbol: 'n_\\mathrm{req}',
      meaning: 'required number of electrodes',
      unit: '1',
      digits: 1,
      basis: typeA,
      optional: true,
      formula: 'max(2, down_conductors)',
      note: 'one at each down conductor, and at least two in total',
    },
    mean_radius: {
      symbol: 'r_\\mathrm{e}',
      meaning: 'mean radius of the area enclosed',
      unit: 'm',
      basis: typeB,
      when: 'arrangement is type-b',
      formula: 'sqrt(area / pi)',
    },
    additional_length: {
      symbol: '\\ell_\\mathrm{add}',
      meaning: 'required length of the electrodes added at each down conductor',
      unit: 'm',
      rounded: 'up',
      basis: additional,
      when: 'arrangement is type-b',
      variants: [
        { when: 'electrode_kind is vertical', formula: 'max(0 m, (minimum_length - mean_radius) / 2)' },
        { formula: 'max(0 m, minimum_length - mean_radius)' },
      ],
    },
  },
  checks: {
    length: {
      criterion: 'Length of each single electrode',
      value: 'length',
      relation: '>=',
      limit: 'required_length',
      when: 'arrangement is type-a and not (given resistance and resistance < 10 ohm)',
      force: 'requirement',
      basis: typeA,
      remedies: [
        'Lengthen the electrodes, or add vertical ones of half the length.',
        'Join the electrodes to a ring (type B) where the ground permits it; the existing electrodes stay connected.',
        {
          when: 'not given resistance',
          text: 'Measure the resistance, away from other earths: below 10 Ω the minimum length is not required.',
        },
      ],
    },
    count: {
      criterion: 'Number of electrodes: one at each down conductor, at least two in total',
      value: 'count',
      relation: '>=',
      limit: 'required_count',
      when: 'arrangement is type-a or additional_length > 0 m',
      force: 'requirement',
      basis: typeA,
      remedies: ['Provide an electrode at each down conductor that has none, at least two in total.'],
    },
    added_length: {
      criterion: 'Length of the electrodes added to the ring or foundation electrode',
      value: 'added_length',
      relation: '>=',
      limit: 'additional_length',
      when: 'arrangement is type-b',
      force: 'requirement',
      basis: additional,
      remedies: [
        {
          when: 'electrode_kind is horizontal',
          text: 'Add horizontal electrodes of {additional_length} at each down conductor, at least two, or vertical ones of half this length.',
        },
        {
          when: 'electrode_kind is vertical',
          text: 'Add vertical electrodes of {additional_length} at each down conductor, at least two, or horizontal ones of twice this length.',
        },
        'Extend the ring to enclose a larger area, where the ground permits it.',
      ],
    },
    share_in_soil: {
      criterion: 'Part of the ring in contact with the soil',
      value: 'share_in_soil',
      relation: '>=',
      limit: '80 %',
      when: 'arrangement is type-b',
      force: 'requirement',
      basis: typeB,
      remedies: [
        'Run the ring outside the structure, in contact with the soil over at least 80 % of its length.',
      ],
    },
  },
  validity: {
    'resistivity-of-curves': {
      requires: 'resistivity <= 3000 ohm m',
      otherwise: 'caution',
      text: 'the lengths of the standard are drawn up to 3000 Ω m; the straight lines are extended beyond',
      basis: lengthByClass,
    },
  },
  cautions: {
    'low-resistance': {
      when: 'arrangement is type-a and given resistance and resistance < 10 ohm',
      text: 'The resistance is below 10 Ω: the minimum length is not required. It must be measured away from other earths, at a frequency other than that of the supply.',
      basis: recall('iec-62305-3-2010', '5.4.2.1'),
    },
    'each-down-conductor': {
      when: 'arrangement is type-b and additional_length > 0 m',
      text: 'Electrodes are to be added at each down conductor, and at least two of them.',
      basis: additional,
    },
    'foundation-in-rock': {
      text: 'Type A suits low structures and existing buildings; in bare rock, and for extensive electronic systems, type B is recommended.',
      basis: recall('iec-62305-3-2010', 'E.5.4'),
    },
  },
  limiting: [
    {
      given: 'area',
      seek: 'smallest',
      meaning: 'smallest enclosed area with which these electrodes suffice',
      when: 'arrangement is type-b',
    },
    {
      given: 'resistivity',
      seek: 'largest',
      meaning: 'highest resistivity for which the length suffices',
      when: 'arrangement is type-a',
    },
  ],
  evidence: [
    ...(
      [
        ['I', '1000 ohm m', '20 m'],
        ['I', '2000 ohm m', '50 m'],
        ['I', '3000 ohm m', '80 m'],
        ['II', '1000 ohm m', '9 m'],
        ['II', '2000 ohm m', '29 m'],
        ['II', '3000 ohm m', '49 m'],
        ['III', '3000 ohm m', '5 m'],
      ] as const
    ).map(
      ([lpl, resistivity, length]): Evidence => ({
        kind: 'memory',
        about: `class ${lpl} in soil of ${resistivity}: ${length}`,
        source:
          'IEC 62305-3:2010, Figure 3, straight lines from memory: 0.03 ρ − 10 and 0.02 ρ − 11, at least 5 m',
        given: { lpl, resistivity, arrangement: 'type-a', length: '5 m', count: '2' },
        expect: { minimum_length: { value: length, tolerance: '0.0001 m' } },
      }),
    ),
    {
      kind: 'refuted',
      about: 'a ring of 100 m² does not have a mean radius of 31.83 m, as was once printed',
      source:
        'guide to lightning protection of 2018 (zdroje.elektrika.cz), p. 154: √(100/π) was taken as 100/π',
      given: { lpl: 'II', resistivity: '100 ohm m', arrangement: 'type-b', area: '100 m^2' },
      expect: { mean_radius: { value: '31.83 m', tolerance: '0.005 m' } },
    },
    {
      kind: 'independent',
      about: 'the same ring: 5.642 m, enough for 5 m',
      source: '√(100/π) = 5.6419 m by hand',
      given: { lpl: 'II', resistivity: '100 ohm m', arrangement: 'type-b', area: '100 m^2' },
      expect: {
        mean_radius: { value: '5.6419 m', tolerance: '0.00005 m' },
        additional_length: { value: '0 m', tolerance: '0 m' },
        added_length: { verdict: 'complies' },
      },
    },
    {
      kind: 'independent',
      about: 'class I in 1000 Ω m, ring of 314.159 m²: 10 m to add, or 5 m vertical',
      source: 're = 10 m; 20 m − 10 m = 10 m; half of it for vertical electrodes',
      given: {
        lpl: 'I',
        resistivity: '1000 ohm m',
        arrangement: 'type-b',
        area: '314.1592654 m^2',
        electrode_kind: 'vertical',
      },
      expect: {
        additional_length: { value: '5 m', tolerance: '0.000001 m' },
        added_length: { verdict: 'does-not-comply' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'the sloping lines begin where they meet 5 m, without a step',
      source: '0.03 · 500 − 10 = 5 and 0.02 · 800 − 11 = 5',
      given: { lpl: 'II', resistivity: '800 ohm m', arrangement: 'type-a', length: '5 m', count: '2' },
      expect: { minimum_length: { value: '5 m', tolerance: '0 m' }, length: { verdict: 'complies' } },
    },
  ],
});
