import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import { downConductorSpacing, protectionLevel } from '../../tables/protection-level.ts';

const placing = recall('iec-62305-3-2010', '5.3.3, positioning for a non-isolated system');

/** How many down conductors a structure needs, and how far apart. */
export const downConductors = defineCalculation({
  name: 'down-conductors',
  title: 'Down conductors',
  purpose:
    'Finds the number of down conductors that a structure needs along its perimeter for its class of protection, the ' +
    'spacing that results, and at how many levels ring conductors are required. It is for systems on the structure, not ' +
    'for isolated ones.',
  answers: ['How many down conductors does the building need, and at which spacing?'],
  example: `
    id: down-conductors-workshop
    title: Down conductors of the workshop building
    given:
      lpl: III
      perimeter: { value: 130 m, source: "drawing A-101" }
      height: { value: 12 m, source: "drawing A-110" }
      count: { value: 9, source: "drawing E-301" }
      spacing: { value: 16 m, source: "drawing E-301, largest" }
  `,
  givens: {
    lpl: protectionLevel,
    perimeter: {
      type: 'quantity',
      symbol: 'P',
      meaning: 'perimeter of the structure',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: { from: '2 m', to: '5000 m', because: 'structures measure metres to kilometres around' },
    },
    height: {
      type: 'quantity',
      symbol: 'h',
      meaning: 'height of the structure',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: { from: '2 m', to: '500 m', because: 'structures are metres to hundreds of metres high' },
    },
    count: {
      type: 'quantity',
      symbol: 'n',
      meaning: 'number of down conductors provided',
      unit: '1',
      whole: true,
      permitted: { from: '1' },
      usual: { to: '500', because: 'structures have at most some hundred down conductors' },
    },
    spacing: {
      type: 'quantity',
      symbol: 'c',
      meaning: 'largest distance between two neighbouring down conductors, along the perimeter',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: { from: '1 m', to: '60 m', because: 'the classes have 10 m to 20 m' },
    },
  },
  steps: {
    typical_spacing: {
      symbol: 'c_\\mathrm{t}',
      meaning: 'typical distance between down conductors for the class',
      unit: 'm',
      basis: downConductorSpacing.basis,
      table: { by: ['lpl'], values: downConductorSpacing.values },
    },
    required_count: {
      symbol: 'n_\\mathrm{req}',
      meaning: 'required number of down conductors',
      unit: '1',
      digits: 1,
      basis: placing,
      formula: 'max(2, ceil(perimeter / typical_spacing))',
      note: 'at least two, spread evenly along the perimeter',
    },
    resulting_spacing: {
      symbol: 'c_\\mathrm{m}',
      meaning: 'mean distance between the down conductors',
      unit: 'm',
      basis: derivation('perimeter over number'),
      variants: [
        { when: 'given count', formula: 'perimeter / count' },
        { formula: 'perimeter / required_count' },
      ],
    },
    ring_levels: {
      symbol: 'm',
      meaning: 'levels of ring conductors above the ground',
      unit: '1',
      digits: 1,
      basis: recall('iec-62305-3-2010', '5.3.4 and Table 4, ring conductors'),
      optional: true,
      formula: 'max(0, ceil(height / typical_spacing) - 1)',
      note: 'between roof and ground, not farther apart than the typical distance',
    },
  },
  checks: {
    count: {
      criterion: 'Number of down conductors',
      value: 'count',
      relation: '>=',
      limit: 'required_count',
      force: 'requirement',
      basis: placing,
      remedies: [
        'Add down conductors, evenly along the perimeter and near exposed corners; existing ones stay.',
        'Use natural components as down conductors (reinforcement, steel frame) where their continuity is proved.',
      ],
    },
    spacing: {
      criterion: 'Largest distance between neighbouring down conductors',
      value: 'spacing',
      relation: '<=',
      limit: '1.2 * typical_spacing',
      when: 'given spacing',
      force: 'recommendation',
      basis: recall('iec-62305-3-2010', '5.3.3, tolerance of 20 % on the typical distance'),
      remedies: [
        'Add down conductors where the distance is largest, so that the distances are even; existing ones stay.',
        'Where doors or glass fronts prevent a conductor, set one on each side and judge the separation distance with the larger share of current.',
      ],
    },
  },
  validity: {
    'spacing-within-perimeter': {
      requires: 'not given spacing or spacing <= perimeter',
      otherwise: 'error',
      text: 'the distance between two conductors exceeds the perimeter',
      basis: placing,
    },
    'spacing-fits-count': {
      requires: 'not (given spacing and given count) or spacing * count >= perimeter * 0.999',
      otherwise: 'error',
      text: 'with so many conductors the largest distance cannot be this small: it is at least perimeter over number',
      basis: derivation('the distances add up to the perimeter'),
    },
  },
  cautions: {
    'two-conductors': {
      when: 'required_count = 2 and perimeter < 2 * typical_spacing',
      text: 'Two down conductors are the minimum for a system on the structure, however small it is.',
      basis: placing,
    },
    corners: {
      text: 'A down conductor should be placed at each exposed corner where possible; the number by the perimeter is the minimum.',
      basis: placing,
    },
    'separation-distance': {
      text: 'Fewer conductors mean a larger share of the current in each: judge the separation distance with the number that is installed.',
      basis: commonPractice(),
    },
    'tall-structure': {
      when: 'height > 60 m',
      text: 'Above 60 m flashes strike the sides as well: the upper fifth of the structure needs air terminations on its walls.',
      basis: recall('iec-62305-3-2010', '5.2.3'),
    },
  },
  limiting: [
    {
      given: 'perimeter',
      seek: 'largest',
      meaning: 'largest perimeter for which number and distance are sufficient',
    },
  ],
  evidence: [
    ...(['I', 'II', 'III', 'IV'] as const).map((lpl, i) => ({
      kind: 'published' as const,
      about: `typical distance for class ${lpl}`,
      source: 'quick reference to IS/IEC 62305-3:2010 (infralens.in): 10, 10, 15, 20 m',
      given: { lpl, perimeter: '100 m' },
      expect: {
        typical_spacing: { value: ['10 m', '10 m', '15 m', '20 m'][i]!, tolerance: '0 m' },
      },
    })),
    {
      kind: 'independent',
      about: 'class III, 30 m by 12 m: six conductors, 14 m apart, one ring at 24 m height',
      source: '84 m / 15 m = 5.6, so 6; 84/6 = 14 m; 24/15 = 1.6, so one level between roof and ground',
      given: { lpl: 'III', perimeter: '84 m', height: '24 m', count: '6' },
      expect: {
        required_count: { value: '6', tolerance: '0' },
        resulting_spacing: { value: '14 m', tolerance: '0 m' },
        ring_levels: { value: '1', tolerance: '0' },
        count: { verdict: 'complies' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'a small structure still needs two',
      source: 'IEC 62305-3: at least two for a system that is not isolated',
      given: { lpl: 'IV', perimeter: '12 m', count: '1' },
      expect: { required_count: { value: '2', tolerance: '0' }, count: { verdict: 'does-not-comply' } },
    },
    {
      kind: 'limiting-case',
      about: 'a perimeter of whole spacings needs exactly so many',
      source: '60 m at 10 m: six, and not seven by rounding noise',
      given: { lpl: 'II', perimeter: '60 m' },
      expect: { required_count: { value: '6', tolerance: '0' } },
    },
  ],
});
