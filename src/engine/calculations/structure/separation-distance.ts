import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { drawSeparationSection } from '../../figures/separation-section.ts';
import { protectionLevel, separationCoefficient } from '../../tables/protection-level.ts';
import {
  bondingDistance,
  computedShare,
  isolatedRod,
  materialFactor,
  separation,
  separationDistanceEditions,
  simplifiedShare,
} from './separation-distance-editions.ts';
import { separationDistanceEvidence } from './separation-distance-evidence.ts';

const iecAlone = 'standard is iec-62305-3';

/** Distance that prevents a flashover from the lightning protection system to metal inside the structure. */
export const separationDistance = defineCalculation({
  name: 'separation-distance',
  title: 'Separation distance',
  purpose:
    'Finds the distance between the lightning protection system and metal parts, electrical or signal lines of the ' +
    'structure that prevents a dangerous spark, over the path along the conductors from the point considered to ' +
    'the nearest bonding point or the earth.',
  answers: [
    'Which distance must metal parts keep from the lightning protection system?',
    'Is the gap wide enough to prevent a dangerous spark?',
  ],
  example: `
    id: gap-at-ventilator
    title: Separation of the ventilator from the air termination
    given:
      lpl: III
      material: air
      length: { value: 14 m, source: "drawing E-301, along the conductor to the bonding bar" }
      method: simplified
      count: { value: 9, source: "drawing E-301" }
      gap: { value: 0.45 m, source: "measured on site" }
  `,
  givens: {
    standard: {
      type: 'choice',
      symbol: '\\text{standard}',
      meaning: 'standard by which the distance is found',
      options: {
        'iec-62305-3': 'IEC 62305-3: by class, share of the current and length',
        'nfpa-780':
          'NFPA 780, edition of 2011 (from memory): a sixth of the height, divided by a number for the down conductors nearby',
        'gb-50057': 'GB 50057, isolated rod: by impulse resistance and height, at least 3 m',
      },
      default: { value: 'iec-62305-3', basis: separation },
    },
    lpl: protectionLevel,
    material: {
      type: 'choice',
      symbol: '\\text{material}',
      meaning: 'insulation in the gap',
      options: { air: 'air', solid: 'concrete, brick or wood' },
    },
    layers: {
      type: 'rows',
      meaning: 'layers between conductor and metal part',
      least: 1,
      columns: {
        thickness: {
          type: 'quantity',
          symbol: 't_i',
          meaning: 'thickness of the layer',
          unit: 'm',
          permitted: { above: '0 m' },
          usual: {
            from: '5 mm',
            to: '5 m',
            because: 'layers of walls and air gaps have millimetres to metres',
          },
        },
        factor: {
          type: 'quantity',
          symbol: 'k_{\\mathrm{m},i}',
          meaning: 'coefficient of the material of the layer',
          unit: '1',
          permitted: { above: '0', to: '1' },
          usual: {
            from: '0.5',
            because: 'the standard gives 0.5 for solid material and 1 for air (from memory)',
          },
        },
      },
    },
    length: {
      type: 'quantity',
      symbol: '\\ell',
      meaning: 'length along the conductors from the point considered to the nearest bonding point',
      note: 'by NFPA 780 the vertical distance to the nearest bond, by GB 50057 the height of the point above ground',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '0.5 m',
        to: '150 m',
        because:
          'paths to a bonding point run from a part of a storey to the height of a tall building (common practice)',
      },
    },
    path: {
      type: 'rows',
      meaning: 'pieces of the path to the nearest bonding point, with the share of the current in each',
      least: 1,
      columns: {
        length: {
          type: 'quantity',
          symbol: '\\ell_i',
          meaning: 'length of the piece',
          unit: 'm',
          permitted: { above: '0 m' },
          usual: { from: '0.1 m', to: '150 m', because: 'pieces of a path are shorter than a tall building' },
        },
        share: {
          type: 'quantity',
          symbol: 'k_{\\mathrm{c},i}',
          meaning: 'share of the lightning current in the piece',
          unit: '1',
          permitted: { above: '0', to: '1' },
          usual: { from: '0.01', because: 'even a dense cage leaves hundredths to each conductor' },
        },
      },
    },
    current_share: {
      type: 'quantity',
      symbol: 'k_\\mathrm{c}',
      meaning: 'share of the lightning current in the conductor near the gap',
      unit: '1',
      permitted: { above: '0', to: '1' },
      usual: { from: '0.01', because: 'even a dense cage leaves hundredths to each conductor' },
    },
    method: {
      type: 'choice',
      symbol: '\\text{method}',
      meaning: 'how the share of the current is found',
      options: {
        simplified: 'by the number of down conductors alone',
        ridge: 'a wire or ridge conductor between two down conductors or masts',
        roof: 'a meshed roof, or ridges, with four or more down conductors',
      },
    },
    count: {
      type: 'quantity',
      symbol: 'n',
      meaning: 'number of down conductors',
      unit: '1',
      whole: true,
      permitted: { from: '1' },
      usual: { to: '200', because: 'structures have at most some hundred down conductors' },
    },
    conductors_in_zone: {
      type: 'quantity',
      symbol: 'n_\\mathrm{z}',
      meaning:
        'number of down conductors at least 7.6 m apart and within 30 m of the bond or gap in question (NFPA 780)',
      unit: '1',
      whole: true,
      permitted: { from: '1' },
      usual: {
        to: '12',
        because: 'a circle of 30 m holds about a dozen conductors 7.6 m apart along a facade',
      },
    },
    height: {
      type: 'quantity',
      symbol: 'h',
      meaning: 'height of the down conductors, or between ring conductors',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: { from: '2 m', to: '150 m', because: 'structures are some metres to 150 m high' },
    },
    spacing: {
      type: 'quantity',
      symbol: 'c',
      meaning: 'distance from a down conductor to the next',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '2 m',
        to: '100 m',
        because: 'down conductors are some metres apart, masts of a catenary wire up to 100 m',
      },
    },
    earth_resistances: {
      type: 'choice',
      symbol: '\\text{earthing}',
      meaning: 'earth resistances of the single electrodes',
      options: {
        alike: 'connected by a ring, or equal within a factor of two',
        unlike: 'single electrodes that differ by more than a factor of two',
      },
      default: {
        value: 'alike',
        basis: commonPractice('a ring electrode, or electrodes of like length in like soil'),
      },
    },
    impulse_resistance: {
      type: 'quantity',
      symbol: 'R_\\mathrm{i}',
      meaning: 'impulse resistance of the earth termination of the isolated rod',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: { from: '0.5 ohm', to: '50 ohm', because: 'earth terminations have some ohms to tens of ohms' },
    },
    ground_gap: {
      type: 'quantity',
      symbol: 'd_\\mathrm{e}',
      meaning: 'actual distance in the ground between the earth termination and other metal parts',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: {
        from: '0.1 m',
        to: '50 m',
        because: 'distances that matter are decimetres to tens of metres',
      },
    },
    gap: {
      type: 'quantity',
      symbol: 'd',
      meaning: 'actual distance between the conductor and the metal part',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: {
        from: '10 mm',
        to: '20 m',
        because: 'distances that matter are centimetres to metres',
      },
    },
  },
  alternatives: [
    { oneOf: ['material', 'layers'], when: 'not standard is gb-50057' },
    { oneOf: ['length', 'path'] },
    { oneOf: ['current_share', 'method'], when: `${iecAlone} and not given path.length` },
  ],
  editions: separationDistanceEditions,
  steps: {
    induction_coefficient: {
      symbol: 'k_\\mathrm{i}',
      meaning: 'coefficient of the class of the protection system',
      unit: '1',
      digits: 1,
      basis: separationCoefficient.basis,
      when: iecAlone,
      table: { by: ['lpl'], values: separationCoefficient.values },
    },
    material_factor: {
      symbol: 'k_\\mathrm{m}',
      meaning: 'coefficient of the insulation in the gap',
      unit: '1',
      digits: 2,
      basis: materialFactor,
      when: 'not standard is gb-50057',
      byEdition: true,
      variants: [
        {
          when: 'given layers.thickness',
          formula: 'sum(layers.thickness * layers.factor) / sum(layers.thickness)',
          basis: recall('iec-62305-3-2010', 'a national supplement on walls of several layers'),
          note: 'mean of the layers, weighted by their thickness',
        },
      ],
    },
    current_share: {
      symbol: 'k_\\mathrm{c}',
      meaning: 'share of the lightning current in the conductor near the gap',
      unit: '1',
      basis: simplifiedShare,
      when: 'given method',
      byEdition: true,
    },
    weighted_length: {
      symbol: '\\textstyle\\sum k_\\mathrm{c}\\ell',
      meaning: 'length of the path, each piece weighted with its share of the current',
      unit: 'm',
      basis: separation,
      byEdition: true,
    },
    conductor_number: {
      symbol: 'n_\\mathrm{c}',
      meaning: 'number by which the height is divided for the down conductors',
      unit: '1',
      basis: bondingDistance,
      byEdition: true,
      note: 'one down conductor in the zone, two, three and more',
    },
    distance_by_resistance: {
      symbol: 's_R',
      meaning: 'distance in air by the rise of the rod',
      unit: 'm',
      rounded: 'up',
      basis: isolatedRod,
      byEdition: true,
    },
    ground_distance_by_resistance: {
      symbol: 's_{R,\\mathrm{e}}',
      meaning: 'distance in the ground by the rise of the earth termination',
      unit: 'm',
      rounded: 'up',
      basis: isolatedRod,
      byEdition: true,
    },
    separation_distance: {
      symbol: 's',
      meaning: 'separation distance',
      unit: 'm',
      rounded: 'up',
      basis: separation,
      byEdition: true,
    },
    ground_separation: {
      symbol: 's_\\mathrm{e}',
      meaning: 'separation distance in the ground',
      unit: 'm',
      rounded: 'up',
      basis: isolatedRod,
      byEdition: true,
      note: 'at least 3 m',
    },
  },
  checks: {
    gap: {
      criterion: 'Actual distance against the separation distance',
      value: 'gap',
      relation: '>=',
      limit: 'separation_distance',
      force: [
        { when: 'standard is nfpa-780', force: 'requirement', basis: bondingDistance },
        { when: 'standard is gb-50057', force: 'requirement', basis: isolatedRod },
        { force: 'requirement' },
      ],
      basis: separation,
      remedies: [
        {
          when: 'not standard is gb-50057',
          text: 'Bond the metal part or line to the lightning protection system at this place, live conductors through surge protective devices, where the structure and its fire and explosion hazards permit it.',
        },
        'Move the conductor of the lightning protection system, or route the installation, so that the distance is kept.',
        {
          when: 'not standard is gb-50057',
          text: 'Bond closer to the point considered: a ring conductor or an equipotential bonding level shortens the length that counts.',
        },
        {
          when: `${iecAlone} and earth_resistances is unlike`,
          text: 'Connect the earth electrodes by a ring conductor: the whole current need then not be counted in one conductor.',
        },
        {
          when: `${iecAlone} and earth_resistances is alike and (not given method or method is roof or method is simplified and count < 3)`,
          text: 'Divide the current among more down conductors, placed around the whole perimeter.',
        },
        {
          when: 'standard is nfpa-780 and conductors_in_zone < 3',
          text: 'Divide the current among more down conductors within the zone.',
        },
        'Use an insulated down conductor whose tested equivalent separation is at least the separation distance.',
      ],
    },
    ground_gap: {
      criterion: 'Actual distance in the ground against the separation distance in the ground',
      value: 'ground_gap',
      relation: '>=',
      limit: 'ground_separation',
      when: 'standard is gb-50057 and given ground_gap',
      force: 'requirement',
      basis: isolatedRod,
      remedies: [
        'Move the earth termination of the rod farther from pipes, cables and other electrodes.',
        {
          when: 'ground_distance_by_resistance > 3 m',
          text: 'Lower its impulse resistance by further electrodes, down to that for which 3 m are sufficient.',
        },
        'Bond the metal part to the earth termination where its owner and the rules of the site permit it.',
      ],
    },
  },
  validity: {
    'path-carries-shares': {
      requires: 'not given path.length or not (given method or given current_share)',
      otherwise: 'error',
      text: 'the pieces of a path carry their own shares: write no current_share and no method beside a path',
      basis: separation,
    },
    'roof-conductors': {
      requires: 'not method is roof or count >= 4',
      otherwise: 'error',
      text: 'the formula for roofs is valid for four or more down conductors',
      basis: computedShare,
    },
    'ridge-conductors': {
      requires: 'not method is ridge or not given count or count = 2',
      otherwise: 'error',
      text: 'the formula for a ridge is valid for two down conductors',
      basis: computedShare,
    },
    'roof-dimensions': {
      requires:
        'not method is roof or earth_resistances is unlike or height >= 3 m and height <= 20 m and spacing >= 3 m and spacing <= 20 m',
      otherwise: 'caution',
      text: 'the formula for roofs is based on heights, and distances between down conductors, of 3 m to 20 m: outside, the share and with it the separation distance are uncertain',
      basis: recall('iec-62305-3-2010', 'Annex C, note on c and h'),
    },
    'roof-far-outside': {
      requires:
        'not method is roof or earth_resistances is unlike or height >= 1 m and height <= 60 m and spacing >= 1 m and spacing <= 60 m',
      otherwise: 'error',
      text: 'height or distance between down conductors is outside the 3 m to 20 m of the formula for roofs by more than a factor of three: find the shares by a network of the conductors and write them as a path',
      basis: commonPractice(),
    },
    'share-at-least-equal': {
      requires: 'not method is roof or earth_resistances is unlike or current_share * count >= 1',
      otherwise: 'error',
      text: 'the formula for roofs gives the nearest conductor less than an equal share of the current, which is impossible',
      basis: derivation('the conductor nearest to the strike carries at least the mean'),
    },
    'share-at-most-one': {
      requires: 'current_share <= 1',
      otherwise: 'error',
      text: 'the share of the current exceeds 1 with this ratio of spacing to height',
      basis: computedShare,
    },
    'roof-spacing': {
      requires: 'not method is roof or spacing <= 2 * height',
      otherwise: 'caution',
      text: 'down conductors are farther apart than twice their height: the share by the formula for roofs is uncertain there',
      basis: commonPractice(),
    },
    'path-is-iec': {
      requires: `${iecAlone} or given length`,
      otherwise: 'error',
      text: 'pieces of a path with shares of the current belong to IEC 62305-3: write length',
      basis: bondingDistance,
    },
    'nfpa-zone': {
      requires: 'not standard is nfpa-780 or not given count',
      otherwise: 'error',
      text: 'by NFPA 780 only down conductors at least 7.6 m apart and within 30 m of the place in question count: write conductors_in_zone, and no count',
      basis: bondingDistance,
    },
    'zone-is-nfpa': {
      requires: 'standard is nfpa-780 or not given conductors_in_zone',
      otherwise: 'error',
      text: 'a number of down conductors within a zone belongs to NFPA 780 alone: write count',
      basis: bondingDistance,
    },
    'layers-fill-gap': {
      requires:
        'not given layers.thickness or not given gap or gap >= 0.99 * sum(layers.thickness) and gap <= 1.01 * sum(layers.thickness)',
      otherwise: 'error',
      text: 'the layers do not add up to the actual distance: list every layer of the gap, including air with the factor 1',
      basis: derivation('the layers fill the gap'),
    },
    'nfpa-material': {
      requires: 'not standard is nfpa-780 or given material',
      otherwise: 'error',
      text: 'NFPA 780 covers air and solid material, not layers: write material',
      basis: bondingDistance,
    },
  },
  cautions: {
    'one-conductor': {
      when: 'method is simplified and count = 1',
      text: 'One down conductor alone is for an isolated protection system; a system on the structure needs at least two.',
      basis: simplifiedShare,
    },
    'earth-resistances': {
      when: 'method is simplified and earth_resistances is alike and count > 1',
      text: 'The share by the number of down conductors applies where the earth resistances of the single electrodes are equal within a factor of two; otherwise the whole current must be taken.',
      basis: simplifiedShare,
    },
    'simplified-structures': {
      when: 'method is simplified and earth_resistances is alike and count > 1',
      text: 'The share by the number alone is meant for structures whose length and width are at most four times their height; for flatter ones find the shares by a network of the conductors.',
      basis: recall('iec-62305-3-2010', '6.3, simplified approach'),
    },
    'bonding-point': {
      when: iecAlone,
      text: 'The length runs along the conductors to the nearest point at which the metal part is bonded with the protection system; without such a bond at earth level no distance is safe.',
      basis: separation,
    },
    'several-materials': {
      when: `${iecAlone} and material is solid`,
      text: 'Solid material counts only where it fills the gap; where the spark could follow a surface or air, take air.',
      basis: recall('iec-62305-3-2010', 'Table 11, note'),
    },
    'standards-differ': {
      when: `not ${iecAlone}`,
      text: 'The standards are based on different models: the distance must not be mixed with the class, share or coefficients of another one.',
      basis: commonPractice(),
    },
    'nfpa-edition': {
      when: 'standard is nfpa-780',
      text: 'The formula and the zone of 30 m are those of the edition of 2011, from memory: compare them with the edition that is in force.',
      basis: bondingDistance,
    },
    'isolated-rod-alone': {
      when: 'standard is gb-50057',
      text: 'This distance is that of a rod or mast with an earth termination of its own, apart from the structure; it does not apply to conductors on the structure.',
      basis: isolatedRod,
    },
    'reinforced-concrete': {
      when: iecAlone,
      text: 'In structures with continuous metal framework or interconnected reinforcement no separation distance is required.',
      basis: recall('iec-62305-3-2010', '6.3'),
    },
  },
  limiting: [
    {
      given: 'length',
      seek: 'largest',
      meaning: 'longest length to the bonding point for which the actual distance is sufficient',
    },
    {
      given: 'count',
      seek: 'smallest',
      meaning: 'fewest down conductors with which the actual distance is sufficient',
      when: 'method is roof',
    },
  ],
  figure: {
    caption: 'The path that counts, and the gap with the separation distance required',
    draw: drawPath,
  },
  evidence: separationDistanceEvidence,
});

function drawPath(view: FigureView): string | undefined {
  if (view.choice('standard') !== 'iec-62305-3') return undefined;
  const pieces = view.has('path.length')
    ? view.list('path.length').map((length, i) => ({
        length,
        shown: view.shownItems('path.length')[i]!,
        share: view.shownItems('path.share')[i]!,
      }))
    : [{ length: view.number('length'), shown: view.shown('length'), share: view.shown('current_share') }];
  const solid = !view.has('material') || view.choice('material') === 'solid';
  const layered = view.has('layers.thickness');
  return drawSeparationSection({
    title: `Separation distance required ${view.shown('separation_distance')}${view.has('gap') ? `, actual distance ${view.shown('gap')}` : ''}.`,
    path: pieces.map(({ length, shown, share }) => ({ length, shown, share: `*k*_{c} = ${share}` })),
    required: {
      length: view.number('separation_distance'),
      shown: `required: *s* = ${view.shown('separation_distance')}`,
    },
    ...(view.has('gap')
      ? { actual: { length: view.number('gap'), shown: `existing: *d* = ${view.shown('gap')}` } }
      : {}),
    material: { name: layered ? 'layers' : solid ? 'solid' : 'air', solid },
    installation: 'metal part or line',
    bonding: 'bonding point',
  });
}
