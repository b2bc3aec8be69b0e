import { cite, commonPractice, recall } from '../../definition/basis.ts';
import type { GivenDefinition, StepDefinition } from '../../definition/definition.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

/** Where the effect of the leads of an arrester is described. */
export const leadsOfArrester = recall('iec-60099-5-2018', 'effect of connecting leads');

/** The ways of connecting an arrester, and the lengths that each asks for. */
export const arrangementGivens = {
  arrangement: {
    type: 'choice',
    symbol: '\\text{arrangement}',
    meaning: 'way in which the arrester is connected',
    options: {
      'separate-earths':
        'arrester and equipment have separate earth electrodes, with no conductor between them',
      'common-earth': 'the earth lead of the arrester is joined with the tank or frame of the equipment',
      'across-terminals':
        'the line passes the terminal of the arrester first, and the base of the arrester is bonded to the tank',
    },
  },
  line_lead: {
    type: 'quantity',
    symbol: '\\ell_\\mathrm{L}',
    meaning: 'length of the lead from the tap on the line to the arrester head',
    unit: 'm',
    permitted: { from: '0 m' },
    usual: USUAL.arresterLead,
  },
  earth_lead: {
    type: 'quantity',
    symbol: '\\ell_\\mathrm{E}',
    meaning: 'length of the lead from the arrester base to the electrode or main earth',
    unit: 'm',
    permitted: { from: '0 m' },
    usual: USUAL.arresterLead,
  },
  bond_position: {
    type: 'quantity',
    symbol: '\\ell_\\mathrm{B}',
    meaning: 'length along the earth lead from the arrester base to the joint with the tank',
    note: 'without it the joint is taken at the end of the earth lead',
    unit: 'm',
    permitted: { from: '0 m' },
    usual: USUAL.arresterLead,
  },
  arrester_height: {
    type: 'quantity',
    symbol: 'h_\\mathrm{A}',
    meaning: 'height of the arrester between its terminals',
    unit: 'm',
    permitted: { from: '0 m' },
    usual: USUAL.arresterHeight,
    default: {
      value: '0 m',
      basis: commonPractice('the height of the arrester is neglected where it is not known'),
    },
  },
  tail_length: {
    type: 'quantity',
    symbol: '\\ell_\\mathrm{T}',
    meaning: 'length of conductor that remains in the loop of an arrester across the terminals',
    unit: 'm',
    permitted: { from: '0 m' },
    usual: USUAL.arresterLead,
    default: { value: '0 m', basis: commonPractice('the terminals of arrester and equipment coincide') },
  },
} satisfies Readonly<Record<string, GivenDefinition>>;

/** What the arrester protects, and by how much. */
export const protectedInsulation = {
  impulse_withstand: {
    type: 'quantity',
    symbol: 'U_\\mathrm{w}',
    meaning: 'impulse withstand voltage of the protected insulation',
    unit: 'kV',
    voltage: { measure: 'peak' },
    permitted: { above: '0 kV' },
    usual: USUAL.impulseWithstand,
  },
  safety_factor: {
    type: 'quantity',
    symbol: 'K_\\mathrm{s}',
    meaning: 'safety factor between withstand and terminal voltage',
    unit: '1',
    permitted: { from: '1' },
    usual: USUAL.safetyFactor,
    default: {
      value: '1.15',
      basis: recall('iec-60071-2-1996', '4.3.4, safety factor for internal insulation'),
    },
    typical: [
      {
        value: '1.2',
        for: 'a margin of 20 %',
        basis: cite('chakrabarti', 'Part II, Example 15.2, p. 399'),
      },
    ],
  },
} satisfies Readonly<Record<string, GivenDefinition>>;

/** Which conductors carry arrester current and lie in the loop with the protected insulation. */
export const countedLength = {
  symbol: '\\ell',
  meaning: 'counted length of conductor, within the loop',
  unit: 'm',
  basis: leadsOfArrester,
  variants: [
    {
      when: 'arrangement is separate-earths',
      formula: 'line_lead + arrester_height + earth_lead',
      note: 'no joint with the equipment: both leads are in the loop over their full length',
    },
    {
      when: 'arrangement is common-earth and given bond_position',
      formula: 'line_lead + arrester_height + bond_position',
      note: 'the earth lead counts up to the joint with the tank',
    },
    {
      when: 'arrangement is common-earth',
      formula: 'line_lead + arrester_height + earth_lead',
      note: 'the joint with the tank is taken at the end of the earth lead',
    },
    {
      formula: 'arrester_height + tail_length',
      note: 'the line passes the terminal of the arrester first and its base is bonded to the tank: the leads do not count',
    },
  ],
} satisfies StepDefinition;

/** What shortens the loop; the first that apply come first. */
export const arrangementRemedies = [
  {
    when: 'arrangement is separate-earths',
    text: 'Bond the base of the arrester to the tank by the shortest possible lead, in addition to the existing connection to the electrode, which stays; the utility’s rules decide on the separation of the low-voltage neutral and on transferred potential.',
  },
  {
    when: 'arrangement is common-earth and (not given bond_position or bond_position > 0 m)',
    text: 'Move the joint with the tank to the base of the arrester: a bond of the shortest length, while the existing earth lead and electrode stay connected.',
  },
  {
    when: 'not arrangement is across-terminals',
    text: 'Mount the arrester at the terminals, so that the line passes its head first and its base is bonded to the tank.',
  },
  {
    when: 'arrangement is across-terminals and tail_length > 0 m',
    text: 'Shorten the conductor of {tail_length} between the base of the arrester and the tank.',
  },
  'Never cut or remove a protective or earthing conductor to shorten the loop.',
];

export const jointOnEarthLead = {
  requires: 'not (given bond_position and given earth_lead) or bond_position <= earth_lead',
  otherwise: 'error',
  text: 'the joint is on the earth lead, so bond_position cannot exceed earth_lead',
  basis: leadsOfArrester,
} as const;
