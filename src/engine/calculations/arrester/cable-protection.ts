import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { CheckDefinition } from '../../definition/definition.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const doubling = recall('ieee-c62-22-2009', 'protection of underground distribution, open end');
const margin = recall('ieee-c62-22-2009', 'protective margin of 20 %');

const REMEDIES: CheckDefinition['remedies'] = [
  {
    when: 'arrangement is riser-only',
    text: 'Place a second arrester at the open end: it removes most of the doubling.',
  },
  {
    when: 'arrangement is open-end',
    text: 'Choose an arrester with a lower protection level for the open end, or shorten its leads: half of its level adds to the voltage in the cable.',
  },
  {
    when: 'arrangement is mid-point',
    text: 'Place an arrester at the open end: the wave that passes the arrester within the cable still doubles there.',
  },
  {
    when: 'arrangement is riser-only',
    text: 'Shorten the leads of the riser arrester: their drop doubles at the open end.',
  },
  {
    when: 'not arrangement is riser-only',
    text: 'Shorten the leads of the riser arrester: their drop adds in full to the wave in the cable.',
  },
  'Choose a riser arrester with a lower residual voltage at a continuous voltage that the network permits.',
  'Bond the screens of the cable, the base of the arrester and the earth at the riser by the shortest leads, in addition to existing connections.',
];

/** Voltage in a cable behind the arrester at its riser pole, with or without a second arrester. */
export const cableProtection = defineCalculation({
  name: 'cable-protection',
  title: 'Protection of a cable behind a riser arrester',
  purpose:
    'Finds the voltage in a cable that is fed from an overhead line through an arrester at the riser: the wave that the ' +
    'arrester lets through doubles at the open end, unless an arrester stands there; then part of its level still adds.',
  answers: [
    'Does the riser arrester protect the cable and the transformer at its far end?',
    'Is a second arrester needed at the open end?',
  ],
  example: `
    id: cable-k4
    title: Cable K4 behind the riser pole
    given:
      arrangement: open-end
      riser_level: { value: 40 kV, source: "calculation of the connection, with leads" }
      open_end_level: { value: 33 kV, source: "data sheet of the elbow arrester" }
      impulse_withstand: { value: 95 kV, source: "data sheet of the cable" }
  `,
  givens: {
    arrangement: {
      type: 'choice',
      symbol: '\\text{arrangement}',
      meaning: 'where arresters stand',
      options: {
        'riser-only': 'at the riser only',
        'open-end': 'at the riser and at the open end',
        'mid-point': 'at the riser and at a point within the cable',
      },
    },
    riser_level: {
      type: 'quantity',
      symbol: 'U_\\mathrm{R}',
      meaning: 'protection level of the riser arrester with its leads',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: USUAL.highVoltageLevel,
    },
    open_end_level: {
      type: 'quantity',
      symbol: 'U_\\mathrm{O}',
      meaning: 'protection level of the arrester at the open end, with its leads',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: USUAL.highVoltageLevel,
    },
    mid_point_level: {
      type: 'quantity',
      symbol: 'U_\\mathrm{M}',
      meaning: 'protection level of the arrester within the cable, with its leads',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: USUAL.highVoltageLevel,
    },
    impulse_withstand: {
      type: 'quantity',
      symbol: 'U_\\mathrm{w}',
      meaning: 'lightning impulse withstand voltage of the cable and of what it feeds',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: USUAL.impulseWithstand,
    },
    safety_factor: {
      type: 'quantity',
      symbol: 'K_\\mathrm{s}',
      meaning: 'required ratio of withstand to voltage',
      unit: '1',
      permitted: { from: '1' },
      usual: USUAL.safetyFactor,
      default: { value: '1.2', basis: margin },
    },
  },
  steps: {
    cable_voltage: {
      symbol: 'U_\\mathrm{cable}',
      meaning: 'highest voltage in the cable',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      basis: doubling,
      variants: [
        {
          when: 'arrangement is riser-only',
          formula: '2 * riser_level',
          note: 'doubling at the open end',
        },
        {
          when: 'arrangement is open-end',
          formula: 'riser_level + open_end_level / 2',
          note: 'the arrester at the end conducts late: part of its level travels back and adds to the wave that arrives',
        },
        {
          formula: 'max(riser_level + mid_point_level / 2, 2 * min(riser_level, mid_point_level))',
          basis: derivation(
            'between riser and arrester as with an arrester at the end; beyond it the lower of the two levels travels on and doubles',
          ),
          note: 'the wave that the arrester within the cable lets through still doubles at the open end',
        },
      ],
    },
    protective_ratio: {
      symbol: 'K',
      meaning: 'withstand to voltage in the cable',
      unit: '1',
      basis: margin,
      optional: true,
      formula: 'impulse_withstand / cable_voltage',
    },
    permitted_riser_level: {
      symbol: 'U_\\mathrm{R,max}',
      meaning: 'highest level of the riser arrester with its leads at which the margin is kept',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      basis: doubling,
      optional: true,
      rounded: 'down',
      when: 'not arrangement is mid-point',
      words: [
        {
          when: 'arrangement is open-end and impulse_withstand / safety_factor <= open_end_level / 2',
          says: 'no level keeps the margin',
        },
      ],
      variants: [
        { when: 'arrangement is riser-only', formula: 'impulse_withstand / (2 * safety_factor)' },
        { formula: 'impulse_withstand / safety_factor - open_end_level / 2' },
      ],
    },
  },
  checks: {
    withstand: {
      criterion: 'Voltage in the cable against its withstand voltage',
      value: 'cable_voltage',
      relation: '<=',
      limit: 'impulse_withstand',
      force: 'requirement',
      basis: commonPractice('insulation may fail above its withstand voltage'),
      remedies: REMEDIES,
    },
    margin: {
      criterion: 'Withstand of the cable against the voltage in it',
      value: 'protective_ratio',
      relation: '>=',
      limit: 'safety_factor',
      force: 'recommendation',
      basis: margin,
      remedies: REMEDIES,
    },
  },
  cautions: {
    'leads-included': {
      text: 'The levels must include the drop along the leads of the arresters, at the front of the wave.',
      basis: doubling,
    },
    'ageing-of-cables': {
      text: 'The withstand voltage of cables falls with age and moisture; many practices keep the voltage well below it.',
      basis: commonPractice(),
    },
    'open-points': {
      text: 'Every open point counts as an open end, including a normally open point that switching moves.',
      basis: commonPractice(),
    },
  },
  limiting: [
    {
      given: 'riser_level',
      seek: 'largest',
      meaning: 'highest level of the riser arrester with its leads at which the margin is kept',
    },
  ],
  evidence: [
    {
      kind: 'memory',
      about: 'riser arrester of 40 kV with its leads: twice that at the open end',
      source: 'IEEE Std C62.22, open end of a cable (from memory)',
      given: { arrangement: 'riser-only', riser_level: '40 kV', impulse_withstand: '95 kV' },
      expect: {
        cable_voltage: { value: '80 kV', tolerance: '0 kV' },
        withstand: { verdict: 'complies' },
        margin: { verdict: 'not-met' },
      },
    },
    {
      kind: 'memory',
      about: 'with an arrester of 33 kV at the open end: half its level adds',
      source: 'IEEE Std C62.22, arrester at the open point (from memory)',
      given: {
        arrangement: 'open-end',
        riser_level: '40 kV',
        open_end_level: '33 kV',
        impulse_withstand: '95 kV',
      },
      expect: { cable_voltage: { value: '56.5 kV', tolerance: '0 kV' }, margin: { verdict: 'met' } },
    },
    {
      kind: 'limiting-case',
      about:
        'an arrester at the end half of whose level uses up the permitted voltage leaves none for the riser',
      source: '20 kV / 1.2 = 16.7 kV lies below half of 36 kV',
      given: {
        arrangement: 'open-end',
        riser_level: '40 kV',
        open_end_level: '36 kV',
        impulse_withstand: '20 kV',
      },
      expect: {
        permitted_riser_level: { words: 'no level keeps the margin' },
        withstand: { verdict: 'does-not-comply' },
      },
    },
    {
      kind: 'independent',
      about: 'an arrester within the cable does not remove the doubling at the end',
      source: 'twice the lower of 40 kV and 33 kV',
      given: { arrangement: 'mid-point', riser_level: '40 kV', mid_point_level: '33 kV' },
      expect: { cable_voltage: { value: '66 kV', tolerance: '0 kV' } },
    },
  ],
});
