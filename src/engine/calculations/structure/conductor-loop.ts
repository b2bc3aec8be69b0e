import { commonPractice, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { drawLoopSection } from '../../figures/loop-section.ts';
import { protectionLevel, separationCoefficient } from '../../tables/protection-level.ts';

const loopRule = recall('iec-62305-3-2010', '5.3.4, loops in down conductors');
const overhangRule = recall('iec-62305-3-2010', 'E.4.2, cantilevered parts of structures');

/** Gap that a loop in a down conductor must leave open, so that the current does not flash over it. */
export const conductorLoop = defineCalculation({
  name: 'conductor-loop',
  title: 'Loop in a down conductor',
  purpose:
    'Finds the width that the open side of a loop in a down conductor must have, where the conductor runs around a ' +
    'parapet or beneath an overhang, so that the lightning current does not flash over it.',
  answers: ['How wide must the open side of a loop in the down conductor be?'],
  example: `
    id: loop-at-parapet
    title: Down conductor around the parapet
    given:
      lpl: III
      loop_length: { value: 2.4 m, source: "measured on site" }
      current_share: { value: 0.44, source: "calculation of the down conductors" }
      material: solid
      gap: { value: 0.3 m, source: "measured on site" }
  `,
  givens: {
    method: {
      type: 'choice',
      symbol: '\\text{method}',
      meaning: 'rule by which the gap is found',
      options: {
        'iec-62305-3': 'separation distance for the length of the loop',
        'bs-6651': 'BS 6651 and IS 2309: the loop may be at most eight times as long as its opening',
      },
      default: { value: 'iec-62305-3', basis: loopRule },
    },
    lpl: protectionLevel,
    loop_length: {
      type: 'quantity',
      symbol: '\\ell',
      meaning: 'length of the conductor around the loop',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '0.2 m',
        to: '50 m',
        because: 'loops around parapets and overhangs are decimetres to tens of metres long',
      },
    },
    current_share: {
      type: 'quantity',
      symbol: 'k_\\mathrm{c}',
      meaning: 'share of the lightning current in this conductor',
      unit: '1',
      permitted: { above: '0', to: '1' },
      usual: { from: '0.01', because: 'even a dense cage leaves hundredths to each conductor' },
      default: { value: '1', basis: commonPractice('the conductor carries the whole current') },
    },
    material: {
      type: 'choice',
      symbol: '\\text{material}',
      meaning: 'material across the open side',
      options: { air: 'air', solid: 'concrete, brick or wood' },
      default: { value: 'air', basis: commonPractice('the loop is open to the air') },
    },
    gap: {
      type: 'quantity',
      symbol: 'd',
      meaning: 'width of the open side of the loop',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: { from: '10 mm', to: '20 m', because: 'open sides are centimetres to metres wide' },
    },
    clear_height: {
      type: 'quantity',
      symbol: 'h',
      meaning: 'height beneath an overhang on which people may stand below the conductor',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: { from: '1 m', to: '50 m', because: 'overhangs are metres to tens of metres above the ground' },
    },
  },
  steps: {
    induction_coefficient: {
      symbol: 'k_\\mathrm{i}',
      meaning: 'coefficient of the class of the protection system',
      unit: '1',
      digits: 1,
      basis: separationCoefficient.basis,
      when: 'method is iec-62305-3',
      table: { by: ['lpl'], values: separationCoefficient.values },
    },
    material_factor: {
      symbol: 'k_\\mathrm{m}',
      meaning: 'coefficient of the material across the open side',
      unit: '1',
      digits: 1,
      basis: recall('iec-62305-3-2010', 'Table 11'),
      when: 'method is iec-62305-3',
      table: { by: ['material'], values: { air: '1', solid: '0.5' } },
    },
    required_gap: {
      symbol: 'd_\\mathrm{req}',
      meaning: 'required width of the open side',
      unit: 'm',
      rounded: 'up',
      basis: loopRule,
      variants: [
        {
          when: 'method is bs-6651',
          formula: 'loop_length / 8',
          basis: recall('bs-6651-1999', 're-entrant loops'),
        },
        { formula: 'induction_coefficient * current_share * loop_length / material_factor' },
      ],
    },
    required_clear_height: {
      symbol: 'h_\\mathrm{req}',
      meaning: 'required height beneath the overhang',
      unit: 'm',
      rounded: 'up',
      basis: overhangRule,
      when: 'given clear_height and method is iec-62305-3',
      formula: '2.5 m + required_gap',
      note: 'reach of a person with a raised hand, and the separation distance',
    },
  },
  checks: {
    gap: {
      criterion: 'Width of the open side of the loop',
      value: 'gap',
      relation: '>=',
      limit: 'required_gap',
      force: 'requirement',
      basis: loopRule,
      remedies: [
        'Run the conductor straight, through the parapet or overhang if necessary, so that there is no loop.',
        'Widen the open side, or shorten the conductor around it.',
        'Join the two ends of the loop by a bond across the open side; the existing conductor stays.',
      ],
    },
    clear_height: {
      criterion: 'Height beneath the overhang',
      value: 'clear_height',
      relation: '>=',
      limit: 'required_clear_height',
      when: 'given clear_height and method is iec-62305-3',
      force: 'requirement',
      basis: overhangRule,
      remedies: [
        'Run the conductor so that nobody can stand beneath the loop, or keep people away by a barrier.',
        'Divide the current among more down conductors.',
      ],
    },
  },
  cautions: {
    'older-rule': {
      when: 'method is bs-6651',
      text: 'The rule of eight times the opening is that of a superseded code; it considers neither the class nor the share of the current.',
      basis: recall('bs-6651-1999', 're-entrant loops'),
    },
    people: {
      when: 'not given clear_height',
      text: 'Where people may stand beneath an overhang its clear height must exceed 2.5 m by the separation distance: it is judged where the clear height is given.',
      basis: overhangRule,
    },
  },
  limiting: [
    {
      given: 'loop_length',
      seek: 'largest',
      meaning: 'longest loop for which the width, and the height where it is given, are sufficient',
    },
    {
      given: 'clear_height',
      seek: 'smallest',
      meaning: 'lowest sufficient clear height, other values unchanged',
      when: 'given clear_height',
    },
  ],
  figure: { caption: 'The loop with its open side, and the required width', draw: drawLoop },
  evidence: [
    {
      kind: 'memory',
      about: 'older rule: a loop of 8 m needs an opening of 1 m',
      source: 'BS 6651 and IS 2309, re-entrant loops, value from memory: at most eight times the opening',
      given: { method: 'bs-6651', loop_length: '8 m', gap: '1 m' },
      expect: { required_gap: { value: '1 m', tolerance: '0 m' }, gap: { verdict: 'complies' } },
    },
    {
      kind: 'independent',
      about: 'class I, half the current, loop of 5 m: 0.2 m',
      source: '0.08 · 0.5 · 5 m / 1 = 0.2 m by hand',
      given: { lpl: 'I', loop_length: '5 m', current_share: '0.5', gap: '0.19 m', clear_height: '2.7 m' },
      expect: {
        required_gap: { value: '0.2 m', tolerance: '0 m' },
        gap: { verdict: 'does-not-comply' },
        clear_height: { verdict: 'complies' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'a loop across masonry needs twice the gap of one across air',
      source: 'km 0.5 against 1',
      given: { lpl: 'III', loop_length: '5 m', material: 'solid' },
      expect: { required_gap: { value: '0.4 m', tolerance: '0 m' } },
    },
  ],
});

function drawLoop(view: FigureView): string | undefined {
  const [length, gap] = [view.number('loop_length'), view.optionalNumber('gap')];
  // No conductor is shorter than the straight way across its open side.
  if (gap === undefined || length <= gap) return undefined;
  const solid = view.choice('material') === 'solid';
  return drawLoopSection({
    title: `Conductor of ${view.shown('loop_length')} around a loop with an open side of ${view.shown('gap')}; required ${view.shown('required_gap')}.`,
    length: { length, shown: `*ℓ* = ${view.shown('loop_length')}` },
    gap: { length: gap, shown: `existing: *d* = ${view.shown('gap')}` },
    required: {
      length: view.number('required_gap'),
      shown: `required: *d*_{req} = ${view.shown('required_gap')}`,
    },
    material: { name: solid ? 'concrete, brick or wood' : 'air', solid },
  });
}
