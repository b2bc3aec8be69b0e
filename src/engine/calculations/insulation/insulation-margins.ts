import { cite, commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { CheckDefinition, QuantityGiven, VariantStep } from '../../definition/definition.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const ratios = recall('ieee-c62-22-2009', 'protective ratios');
const onWithstand = cite('naidu-kamaraju', 'chapter 8, margin on the withstand voltage');
const converted = derivation('a margin m on the protective level is m/(1+m) on the withstand');

const voltage = { measure: 'peak', between: 'phase-earth' } as const;
const leadsToFront =
  '(add_lead_drop_to is front-of-wave-and-lightning or add_lead_drop_to is front-of-wave or add_lead_drop_to is all)';
const leadsToLightning =
  '(add_lead_drop_to is front-of-wave-and-lightning or add_lead_drop_to is lightning or add_lead_drop_to is all)';

const withinBasis = commonPractice('insulation may fail above its withstand voltage');

/** Shorter leads help where the drop along them is added to the level of this kind. */
const remediesOf = (kind: Kind): CheckDefinition['remedies'] => [
  {
    when: `given ${kind}_total and lead_drop > 0 kV`,
    text: 'Shorten the leads of the arrester, or mount it at the terminals: the drop along the leads adds to the protective level.',
  },
  'Choose an arrester with lower protective levels at a continuous voltage that the network permits.',
  'Choose equipment of a higher standard withstand level.',
];

const GAP_REMEDIES = [
  'Replace the gap by a metal-oxide arrester, or have its setting judged by the manufacturer and the utility.',
  'Choose equipment of a higher standard withstand level.',
];

type Kind = 'lightning' | 'front_of_wave' | 'switching';

const NAMES: Readonly<Record<Kind, string>> = {
  lightning: 'lightning',
  front_of_wave: 'front-of-wave',
  switching: 'switching',
};

/** A distribution arrester of 34 kV whose lead of 4 ft drops 32 kV. */
const distribution = { lightning_withstand: '95 kV', lightning_level: '34 kV', lead_drop: '32 kV' };

/** Margins of insulation above the protective levels of an arrester, each impulse against its like. */
export const insulationMargins = defineCalculation({
  name: 'insulation-margins',
  title: 'Protective margins of insulation',
  purpose:
    'Compares the withstand voltages of equipment with the protective levels of its arrester, separately for each kind of ' +
    'impulse, and gives the margins in per cent, with the base to which they refer.',
  answers: [
    'What is the margin between the protective level of the arrester and the withstand voltage of the insulation?',
    'Are the margins at lightning, switching and front-of-wave impulses sufficient?',
  ],
  example: `
    id: tx2-margins
    title: Transformer TX2, protective margins
    given:
      lightning_withstand: { value: 550 kV, source: "rating plate" }
      chopped_wave_withstand: { value: 605 kV, source: "test report of the transformer" }
      switching_withstand: { value: 460 kV, source: "test report of the transformer" }
      lightning_level: { value: 300 kV, source: "data sheet of the arrester, 8/20 at 10 kA" }
      front_of_wave_level: { value: 335 kV, source: "data sheet of the arrester" }
      switching_level: { value: 250 kV, source: "data sheet of the arrester" }
      lead_drop: { value: 30 kV, source: "calculation of the connection" }
  `,
  givens: {
    lightning_withstand: level('BIL', 'full-wave lightning impulse withstand voltage'),
    chopped_wave_withstand: {
      ...level('CWW', 'chopped-wave withstand voltage'),
      typical: [
        { value: '110 kV', for: 'liquid-filled equipment of 95 kV: 1.15 times', basis: ratios },
        { value: '95 kV', for: 'dry equipment and cables of 95 kV: the full-wave value', basis: ratios },
      ],
    },
    switching_withstand: {
      ...level('BSL', 'switching impulse withstand voltage'),
      typical: [{ value: '79 kV', for: '0.83 times a full-wave withstand of 95 kV', basis: ratios }],
    },
    lightning_level: level('LPL', 'lightning impulse protective level of the arrester, 8/20'),
    front_of_wave_level: level('FOW', 'front-of-wave protective level of the arrester'),
    switching_level: level('SPL', 'switching impulse protective level of the arrester'),
    sparkover_level: level('U_\\mathrm{so}', 'power-frequency or impulse sparkover level of a gap'),
    lead_drop: {
      type: 'quantity',
      symbol: '\\Delta U',
      meaning: 'inductive drop along the leads of the arrester',
      note: 'leave it out only where the arrester is at the terminals; 0 kV states that it was considered',
      unit: 'kV',
      voltage,
      permitted: { from: '0 kV' },
      usual: {
        from: '0.1 kV',
        to: '1000 kV',
        orNone: true,
        because: 'a metre of lead drops some kilovolts to some ten kilovolts',
      },
    },
    add_lead_drop_to: {
      type: 'choice',
      symbol: '\\text{leads to}',
      meaning: 'levels to which the drop along the leads is added',
      options: {
        'front-of-wave-and-lightning': 'front-of-wave and lightning level',
        'front-of-wave': 'front-of-wave level only',
        lightning: 'lightning level only',
        all: 'front-of-wave, lightning and switching level',
      },
      default: { value: 'front-of-wave-and-lightning', basis: ratios },
    },
    base: {
      type: 'choice',
      symbol: '\\text{base}',
      meaning: 'base of the margins',
      options: {
        'protective-level': 'the protective level: withstand over level, less one',
        withstand: 'the withstand: withstand less level, over withstand',
      },
      default: { value: 'protective-level', basis: ratios },
    },
    lightning_limit: limit('m_\\mathrm{l,0}', 'at lightning impulse', '20 %'),
    front_of_wave_limit: limit('m_\\mathrm{f,0}', 'at the front of the wave', '20 %'),
    switching_limit: limit('m_\\mathrm{s,0}', 'at switching impulse', '15 %'),
    sparkover_limit: limit('m_\\mathrm{so,0}', 'at sparkover'),
  },
  steps: {
    lightning_total: withLeads('U_\\mathrm{l}', 'lightning', leadsToLightning),
    front_of_wave_total: withLeads('U_\\mathrm{f}', 'front_of_wave', leadsToFront),
    switching_total: withLeads('U_\\mathrm{s}', 'switching', 'add_lead_drop_to is all'),
    lightning_margin: margin('M_\\mathrm{l}', 'lightning', 'lightning_withstand'),
    front_of_wave_margin: margin('M_\\mathrm{f}', 'front_of_wave', 'chopped_wave_withstand'),
    switching_margin: margin('M_\\mathrm{s}', 'switching', 'switching_withstand'),
    sparkover_margin: {
      symbol: 'M_\\mathrm{so}',
      meaning: 'margin at sparkover',
      unit: '%',
      basis: ratios,
      optional: true,
      variants: [
        { when: 'base is protective-level', formula: 'lightning_withstand / sparkover_level - 1' },
        { formula: '(lightning_withstand - sparkover_level) / lightning_withstand', basis: onWithstand },
      ],
    },
    lightning_least: least('m_\\mathrm{l}', 'lightning', '20 %'),
    front_of_wave_least: least('m_\\mathrm{f}', 'front_of_wave', '20 %'),
    switching_least: least('m_\\mathrm{s}', 'switching', '15 %'),
  },
  checks: {
    lightning_within: withinCheck('lightning', 'lightning_withstand'),
    front_of_wave_within: withinCheck('front_of_wave', 'chopped_wave_withstand'),
    switching_within: withinCheck('switching', 'switching_withstand'),
    sparkover_within: {
      criterion: 'Sparkover level against the full-wave withstand voltage',
      when: 'given sparkover_level',
      value: 'sparkover_level',
      relation: '<=',
      limit: 'lightning_withstand',
      force: 'requirement',
      basis: withinBasis,
      remedies: GAP_REMEDIES,
    },
    lightning: marginCheck('Margin at lightning impulse', 'lightning', 'lightning_withstand'),
    front_of_wave: marginCheck('Margin at the front of the wave', 'front_of_wave', 'chopped_wave_withstand'),
    switching: marginCheck('Margin at switching impulse', 'switching', 'switching_withstand'),
    sparkover: {
      criterion: 'Margin at sparkover, against the stated limit',
      when: 'given sparkover_limit',
      value: 'sparkover_margin',
      relation: '>=',
      limit: 'sparkover_limit',
      force: 'requirement',
      basis: commonPractice('stated limit'),
      remedies: GAP_REMEDIES,
    },
  },
  validity: {
    'at-least-one-pair': {
      requires:
        'given lightning_margin or given front_of_wave_margin or given switching_margin or given sparkover_margin',
      otherwise: 'error',
      text: 'write at least one pair of withstand voltage and protective level of the same kind',
      basis: ratios,
    },
  },
  cautions: {
    'front-below-lightning': {
      when: 'front_of_wave_level < lightning_level',
      text: 'The front-of-wave level is below the lightning level; for a metal-oxide arrester it is above it. Check whether the two were interchanged.',
      basis: commonPractice('metal-oxide arresters'),
    },
    'switching-above-lightning': {
      when: 'switching_level > lightning_level',
      text: 'The switching level is above the lightning level; for a metal-oxide arrester it is below it. Check whether the two were interchanged.',
      basis: commonPractice('metal-oxide arresters'),
    },
    'leads-not-included': {
      when: 'not given lead_drop',
      text: 'The drop along the leads is not included: the margins apply at the terminals of the arrester only.',
      basis: ratios,
    },
    'base-of-margins': {
      when: 'base is protective-level',
      text: 'The margins refer to the protective level; a margin of 20 % on it is 16.7 % on the withstand voltage.',
      basis: converted,
    },
    'base-withstand': {
      when: 'base is withstand',
      text: 'The margins refer to the withstand voltage; a margin of 16.7 % on it is 20 % on the protective level.',
      basis: onWithstand,
    },
    'distance-left-out': {
      text: 'The distance between arrester and equipment is neglected; judge it by the calculation of the protective distance.',
    },
    'sparkover-without-limit': {
      when: 'given sparkover_level and not given sparkover_limit',
      text: 'The sparkover margin is given without a verdict, because no limit is given for it.',
    },
  },
  limiting: [
    {
      given: 'lead_drop',
      seek: 'largest',
      meaning: 'largest drop along the leads, other values unchanged',
      when: `(${leadsToFront}) or (${leadsToLightning})`,
    },
  ],
  evidence: [
    {
      kind: 'independent',
      about: 'distribution system of 12.5 kV: arrester of 34 kV with a lead of 4 ft at 8 kV/ft',
      source:
        'data of a handbook problem without a printed answer; by hand: 95 kV / 66 kV - 1 = 43.9 %, 110 kV / 66 kV - 1 = 66.7 %',
      given: { ...distribution, chopped_wave_withstand: '110 kV', front_of_wave_level: '34 kV' },
      expect: {
        lightning_margin: { value: '43.9 %', tolerance: '0.05 %' },
        front_of_wave_margin: { value: '66.7 %', tolerance: '0.05 %' },
        lightning: { verdict: 'met' },
      },
    },
    {
      kind: 'independent',
      about: 'the same margin on the withstand, and its limit',
      source: 'by hand: (95 kV - 66 kV) / 95 kV = 30.5 %; 0.2 / 1.2 = 16.7 %',
      given: { ...distribution, base: 'withstand' },
      expect: {
        lightning_margin: { value: '30.5 %', tolerance: '0.05 %' },
        lightning_least: { value: '16.7 %', tolerance: '0.05 %' },
      },
    },
    {
      kind: 'independent',
      about:
        '66 kV transformer of 350 kV with an arrester of 220 kV (a margin that the example does not print)',
      source:
        'Chakrabarti, Soni, Gupta, Bhatnagar, A Textbook on Power System Engineering, Part II, Example 14.2, p. 384: 350 kV - 220 kV = 130 kV, 59.1 % of 220 kV',
      given: { lightning_withstand: '350 kV', lightning_level: '220 kV' },
      expect: { lightning_margin: { value: '59.1 %', tolerance: '0.05 %' } },
    },
    {
      kind: 'limiting-case',
      about: 'a level equal to the withstand voltage does not exceed it, and leaves no margin',
      source: '50 kV and 20 kV of leads against 70 kV',
      given: { lightning_withstand: '70 kV', lightning_level: '50 kV', lead_drop: '20 kV' },
      expect: {
        lightning_margin: { value: '0 %', tolerance: '1e-9 %' },
        lightning_within: { verdict: 'complies' },
        lightning: { verdict: 'not-met' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'a verdict does not depend on the base',
      source: 'a margin of just 20 % on the level is just 16.7 % on the withstand',
      given: { lightning_withstand: '120 kV', lightning_level: '100 kV', base: 'withstand' },
      expect: { lightning: { verdict: 'met' } },
    },
  ],
});

function level(symbol: string, meaning: string): QuantityGiven {
  const tex = symbol.startsWith('U') ? symbol : `\\mathrm{${symbol}}`;
  return {
    type: 'quantity',
    symbol: tex,
    meaning,
    unit: 'kV',
    voltage,
    permitted: { above: '0 kV' },
    usual: meaning.includes('withstand') ? USUAL.impulseWithstand : USUAL.highVoltageLevel,
  };
}

function limit(symbol: string, where: string, usual?: string): QuantityGiven {
  return {
    type: 'quantity',
    symbol,
    meaning: `minimum margin ${where}, on the chosen base`,
    ...(usual ? { note: `without it ${usual} on the protective level, converted to the chosen base` } : {}),
    unit: '%',
    permitted: { from: '0 %' },
    usual: {
      from: '5 %',
      to: '200 %',
      orNone: true,
      because: 'margins of 15 % to 50 % are required; a bare 0.2 is 20 %',
    },
  };
}

function withLeads(symbol: string, kind: Kind, added: string): VariantStep {
  return {
    symbol,
    meaning: `${NAMES[kind]} level with the drop along the leads`,
    unit: 'kV',
    voltage,
    basis: ratios,
    optional: true,
    when: `given lead_drop and ${added}`,
    variants: [{ formula: `${kind}_level + lead_drop` }],
  };
}

function margin(symbol: string, kind: Kind, withstand: string): VariantStep {
  const [total, alone] = [`${kind}_total`, `${kind}_level`];
  return {
    symbol,
    meaning: `${NAMES[kind]} margin`,
    unit: '%',
    basis: ratios,
    optional: true,
    variants: [
      { when: `base is protective-level and given ${total}`, formula: `${withstand} / ${total} - 1` },
      { when: 'base is protective-level', formula: `${withstand} / ${alone} - 1` },
      { when: `given ${total}`, formula: `(${withstand} - ${total}) / ${withstand}`, basis: onWithstand },
      { formula: `(${withstand} - ${alone}) / ${withstand}`, basis: onWithstand },
    ],
  };
}

function least(symbol: string, kind: Kind, usual: string): VariantStep {
  return {
    symbol,
    meaning: `minimum ${NAMES[kind]} margin on the chosen base`,
    unit: '%',
    basis: ratios,
    when: `given ${kind}_margin`,
    variants: [
      {
        when: `given ${kind}_limit`,
        formula: `${kind}_limit`,
        basis: commonPractice('stated limit'),
      },
      {
        when: 'base is withstand',
        formula: `${usual} / (1 + ${usual})`,
        basis: converted,
        note: `${usual} on the protective level`,
      },
      { formula: usual },
    ],
  };
}

/** No margin makes up for a level above the withstand voltage: that is a requirement whatever margin is recommended. */
function withinCheck(kind: Kind, withstand: string): CheckDefinition {
  return {
    criterion: `${NAMES[kind].replace(/^./, (first) => first.toUpperCase())} level against the withstand voltage`,
    when: `given ${kind}_level or given ${withstand} and not given sparkover_level`,
    value: `${kind}_level`,
    relation: '<=',
    limit: withstand,
    competing: [{ meaning: 'the level with the drop along the leads', value: `${kind}_total` }],
    force: 'requirement',
    basis: withinBasis,
    remedies: remediesOf(kind),
  };
}

function marginCheck(criterion: string, kind: Kind, withstand: string): CheckDefinition {
  return {
    criterion,
    when: `given ${kind}_level or given ${withstand} and not given sparkover_level`,
    value: `${kind}_margin`,
    relation: '>=',
    limit: `${kind}_least`,
    force: [
      {
        when: `given ${kind}_limit`,
        force: 'requirement',
        basis: commonPractice('stated limit'),
      },
      { force: 'recommendation' },
    ],
    basis: ratios,
    remedies: remediesOf(kind),
  };
}
