import { commonPractice, derivation, quote, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { drawRollingSphere } from '../../figures/rolling-sphere-section.ts';
import { protectionLevel, sphereRadius } from '../../tables/protection-level.ts';
import { rollingSphereEvidence } from './rolling-sphere-evidence.ts';

const sphere = quote(
  'gb-50057-2010',
  'Annex D, single rod',
  'lightning-examination-problems',
  'problems 2577868, 2577872 and 2577876',
);
const supports = derivation(
  'a sphere that rests on two supports of equal height hangs down between them by this much',
);

/** What a rolling sphere leaves protected beside a rod and between supports. */
export const rollingSphere = defineCalculation({
  name: 'rolling-sphere',
  title: 'Protection by the rolling sphere',
  purpose:
    'Finds the radius within which a rod protects objects of a given height, how deep the sphere dips between two ' +
    'supports, and how high the supports must be. All heights count from the surface on which the sphere rolls.',
  answers: [
    'Which volume does an air-termination rod protect?',
    'How high must the rod be, and how far does its protection reach?',
  ],
  example: `
    id: rod-over-cooler
    title: Rod beside the cooler on the roof
    given:
      lpl: III
      rod_height: { value: 4 m, source: "proposed" }
      object_height: { value: 2.2 m, source: "measured on site" }
      required_radius: { value: 3.5 m, source: "measured on site, rod to the far corner" }
  `,
  givens: {
    lpl: protectionLevel,
    sphere_radius: {
      type: 'quantity',
      symbol: 'r',
      meaning: 'radius of the rolling sphere',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: { from: '10 m', to: '60 m', because: 'the classes of protection have 20 m to 60 m' },
    },
    rod_height: {
      type: 'quantity',
      symbol: 'h',
      meaning: 'height of the rod or of the supports',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '0.2 m',
        to: '150 m',
        because: 'rods, masts and supports are decimetres to tens of metres high',
      },
    },
    object_height: {
      type: 'quantity',
      symbol: 'h_\\mathrm{x}',
      meaning: 'height of the object to be protected',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: {
        from: '0.1 m',
        to: '30 m',
        orNone: true,
        because: 'objects are decimetres to tens of metres high, or lie flat',
      },
    },
    required_radius: {
      type: 'quantity',
      symbol: 'r_\\mathrm{req}',
      meaning: 'distance from the rod to the farthest point of the object',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: { from: '0.1 m', to: '60 m', because: 'no rod protects farther than the largest sphere' },
    },
    spacing: {
      type: 'quantity',
      symbol: 'd',
      meaning:
        'distance between two supports: along the side for a line of them, along the diagonal for four',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '0.5 m',
        to: '100 m',
        because: 'supports stand decimetres to some tens of metres apart, never a diameter of the sphere',
      },
    },
    supports: {
      type: 'choice',
      symbol: '\\text{supports}',
      meaning: 'supports around the object',
      options: {
        many: 'supports on all sides: the sphere can only come from above',
        pair: 'two supports alone: the sphere also leans in from the side',
      },
      default: {
        value: 'many',
        basis: commonPractice('supports in rows or at the corners of an area'),
      },
    },
  },
  alternatives: [{ oneOf: ['lpl', 'sphere_radius'] }],
  steps: {
    sphere_radius: {
      symbol: 'r',
      meaning: 'radius of the rolling sphere',
      unit: 'm',
      basis: sphereRadius.basis,
      when: 'given lpl',
      table: { by: ['lpl'], values: sphereRadius.values },
    },
    mesh_width: {
      symbol: 'w_\\mathrm{m}',
      meaning: 'largest mesh width of a meshed air termination on the roof instead',
      unit: 'm',
      basis: sphereRadius.basis,
      when: 'given lpl',
      table: { by: ['lpl'], values: { I: '5 m', II: '10 m', III: '15 m', IV: '20 m' } },
    },
    counted_height: {
      symbol: "h'",
      meaning: 'effective height of the rod',
      unit: 'm',
      basis: sphere,
      formula: 'min(rod_height, sphere_radius)',
      note: 'a rod higher than the radius of the sphere is counted with that radius',
    },
    protected_radius: {
      symbol: 'r_\\mathrm{x}',
      meaning: 'protected radius about the rod at the height of the object',
      unit: 'm',
      rounded: 'down',
      basis: sphere,
      words: [{ when: 'given object_height and object_height >= counted_height', says: 'no protected area' }],
      variants: [
        {
          when: 'given object_height',
          formula:
            'sqrt(counted_height * (2 * sphere_radius - counted_height)) - sqrt(object_height * (2 * sphere_radius - object_height))',
        },
        {
          formula: 'sqrt(counted_height * (2 * sphere_radius - counted_height))',
          note: 'at the level from which heights count, as no object height is given',
        },
      ],
    },
    penetration: {
      symbol: 'p',
      meaning: 'depth by which the sphere dips between two supports',
      unit: 'm',
      basis: supports,
      when: 'given spacing',
      words: [{ when: 'spacing > 2 * sphere_radius', says: 'the sphere falls through' }],
      formula: 'sphere_radius - sqrt(sphere_radius^2 - (spacing / 2)^2)',
    },
    lowest_protected_height: {
      symbol: 'h_\\mathrm{p}',
      meaning: 'protected height midway between the supports',
      unit: 'm',
      rounded: 'down',
      basis: supports,
      when: 'given spacing',
      words: [
        {
          when: 'supports is many and penetration >= rod_height',
          says: 'no protected area',
        },
        {
          when: 'supports is pair and (sphere_radius - counted_height)^2 + (spacing / 2)^2 >= sphere_radius^2',
          says: 'no protected area',
        },
      ],
      variants: [
        { when: 'supports is many', formula: 'rod_height - penetration' },
        {
          formula: 'sphere_radius - sqrt((sphere_radius - counted_height)^2 + (spacing / 2)^2)',
          basis: derivation('a sphere on the ground that leans against both supports'),
        },
      ],
    },
    pair_height: {
      symbol: 'h_2',
      meaning: 'protected height midway, were there these two supports alone',
      unit: 'm',
      rounded: 'down',
      basis: derivation('a sphere on the ground that leans against both supports'),
      when: 'given spacing and supports is many',
      words: [
        {
          when: '(sphere_radius - counted_height)^2 + (spacing / 2)^2 >= sphere_radius^2',
          says: 'no protected area',
        },
      ],
      formula: 'sphere_radius - sqrt((sphere_radius - counted_height)^2 + (spacing / 2)^2)',
    },
    needed_reach: {
      symbol: 'A',
      meaning: 'radius at the ground that the rod must protect to cover the object',
      unit: 'm',
      rounded: 'up',
      basis: derivation('the formula of the protected radius, solved'),
      when: 'given object_height and given required_radius',
      words: [{ when: 'object_height >= sphere_radius', says: 'no rod suffices' }],
      formula: 'required_radius + sqrt(object_height * (2 * sphere_radius - object_height))',
    },
    height_for_radius: {
      symbol: 'h_\\mathrm{r}',
      meaning: 'height of a rod that covers the object by its radius',
      unit: 'm',
      rounded: 'up',
      basis: derivation('the formula of the protected radius, solved for the height'),
      when: 'given object_height and given required_radius',
      words: [{ when: 'needed_reach > sphere_radius', says: 'no rod suffices' }],
      formula: 'sphere_radius - sqrt(sphere_radius^2 - needed_reach^2)',
    },
    height_for_spacing: {
      symbol: 'h_\\mathrm{d}',
      meaning: 'height of supports that keep the sphere off the object between them',
      unit: 'm',
      rounded: 'up',
      basis: supports,
      when: 'given object_height and given spacing and supports is many',
      formula: 'object_height + penetration',
    },
    required_rod_height: {
      symbol: 'h_\\mathrm{req}',
      meaning: 'required height of rod or supports',
      unit: 'm',
      rounded: 'up',
      basis: derivation('the larger of the heights required by radius and spacing'),
      when: 'given object_height and (given required_radius or given spacing and supports is many)',
      variants: [
        {
          when: 'given required_radius and given spacing and supports is many',
          formula: 'max(height_for_radius, height_for_spacing)',
        },
        { when: 'given required_radius', formula: 'height_for_radius' },
        { formula: 'height_for_spacing' },
      ],
    },
  },
  checks: {
    radius: {
      criterion: 'Protected radius of the rod against the distance of the object',
      value: 'protected_radius',
      relation: '>=',
      limit: 'required_radius',
      when: 'given required_radius or given object_height and not given spacing',
      force: 'requirement',
      basis: sphere,
      verdictOfWords: { 'no protected area': false },
      remedies: [
        { when: 'given height_for_radius', text: 'Raise the rod to at least {height_for_radius}.' },
        {
          when: 'given needed_reach and not given height_for_radius',
          text: 'No rod at this distance is sufficient, whatever its height: set it closer or choose another of the measures below.',
        },
        {
          when: 'not given needed_reach and rod_height < sphere_radius',
          text: 'Raise the rod, up to the radius of the sphere: beyond that more height does not help.',
        },
        'Set the rod closer to the object, or add rods or a catenary wire so that the sphere cannot touch it.',
        'Fit the object with an air termination of its own.',
      ],
    },
    between_supports: {
      criterion: 'Protected height between the supports against the height of the object',
      value: 'lowest_protected_height',
      relation: '>=',
      limit: 'object_height',
      when: 'given spacing',
      force: 'requirement',
      basis: supports,
      verdictOfWords: { 'no protected area': false, 'the sphere falls through': false },
      remedies: [
        { when: 'given height_for_spacing', text: 'Raise the supports to at least {height_for_spacing}.' },
        {
          when: 'supports is pair and rod_height < sphere_radius',
          text: 'Raise the supports, up to the radius of the sphere: beyond that more height does not help.',
        },
        'Set further supports between, so that the spacing and with it the dip of the sphere becomes smaller.',
      ],
    },
  },
  validity: {
    'sphere-between-supports': {
      requires: 'not given spacing or spacing <= 2 * sphere_radius',
      otherwise: 'error',
      text: 'the supports are farther apart than the diameter of the sphere: it falls through between them',
      basis: supports,
    },
    'object-below-rod': {
      requires: 'not given object_height or object_height <= rod_height',
      otherwise: 'error',
      text: 'the object is higher than the rod',
      basis: sphere,
    },
  },
  cautions: {
    'high-rod': {
      when: 'rod_height > sphere_radius',
      text: 'The rod is higher than the radius of the sphere: it is counted with that radius, and flashes may strike its side.',
      basis: recall('iec-62305-3-2010', 'Annex A, A.2'),
    },
    'two-supports-alone': {
      when: 'given spacing and supports is many',
      text: 'The sphere is taken to come from above only, as between the many supports of an area. Between two supports alone it also leans in from the side; protected height midway: {pair_height}.',
      basis: recall('gb-50057-2010', 'Annex D, D.0.2'),
    },
    'pair-without-required-height': {
      when: 'given spacing and supports is pair',
      text: 'For two supports alone the required height is not calculated: read it from the limiting values.',
    },
    'reference-plane': {
      text: 'Heights count from the surface on which the sphere rolls. On a roof this is the roof only as long as the sphere does not touch the ground or a lower roof at the same time.',
      basis: commonPractice(),
    },
  },
  limiting: [
    {
      given: 'rod_height',
      seek: 'smallest',
      meaning: 'lowest rod, or supports, that cover the object',
      when: 'given required_radius or given spacing',
    },
    {
      given: 'spacing',
      seek: 'largest',
      meaning: 'largest distance between the supports that covers the object',
    },
  ],
  figure: { caption: 'Section through the rolling sphere', draw: drawSection },
  evidence: rollingSphereEvidence,
});

function drawSection(view: FigureView): string {
  const measured = (symbol: string, name: string) => ({
    length: view.number(name),
    shown: `${symbol} = ${view.shown(name)}`,
  });
  const found = view.optionalNumber('protected_radius');
  const spaced = view.optionalNumber('penetration') !== undefined;
  return drawRollingSphere({
    title: saySection(view),
    sphere: measured('*r*', 'sphere_radius'),
    rod: measured('*h*', 'rod_height'),
    ...(view.has('object_height') ? { object: measured('*h*_{x}', 'object_height') } : {}),
    ...(view.has('object_height') && view.has('required_radius')
      ? { objectReach: measured('*r*_{req}', 'required_radius') }
      : {}),
    protectedRadius: {
      ...(found === undefined ? {} : { length: found }),
      shown:
        found === undefined ? view.shown('protected_radius') : `*r*_{x} = ${view.shown('protected_radius')}`,
    },
    ...(spaced
      ? {
          supports: {
            spacing: measured('*d*', 'spacing'),
            penetration: measured('*p*', 'penetration'),
            lowest: lowestWords(view),
          },
        }
      : {}),
  });
}

/** Drawn is the sphere from above; between two supports alone it also leans in, and the protected height is another one. */
function lowestWords(view: FigureView): string {
  if (view.choice('supports') === 'pair')
    return `sphere from the side: *h*_{p} ${view.shown('lowest_protected_height')}`;
  return view.optionalNumber('lowest_protected_height') === undefined
    ? view.shown('lowest_protected_height')
    : `*h*_{p} = ${view.shown('lowest_protected_height')}`;
}

function saySection(view: FigureView): string {
  const rod = `Rod or support of ${view.shown('rod_height')}, sphere of ${view.shown('sphere_radius')}.`;
  const level = view.has('object_height')
    ? `At the height of the object, ${view.shown('object_height')}, the protected radius is`
    : 'At the ground the protected radius is';
  const needed = view.has('required_radius') ? `, required ${view.shown('required_radius')}` : '';
  const between = view.has('spacing')
    ? ` Between supports ${view.shown('spacing')} apart the sphere dips by ${view.shown('penetration')}; protected height midway: ${view.shown('lowest_protected_height')}.`
    : '';
  return `${rod} ${level}: ${view.shown('protected_radius')}${needed}.${between}`;
}
