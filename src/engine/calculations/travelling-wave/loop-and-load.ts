import { derivation, recall } from '../../definition/basis.ts';
import type { StepDefinition } from '../../definition/definition.ts';

/** What the arrangement of an arrester asks for: the conductor that counts, and what the wave comes behind. */
export const loopAndLoad = {
  counted_length: {
    symbol: '\\ell',
    meaning: 'length of conductor in the loop of arrester and protected insulation',
    unit: 'm',
    basis: recall('iec-60099-5-2018', 'effect of connecting leads'),
    variants: [
      {
        when: 'arrangement is separate-earths',
        formula: 'line_lead + arrester_height + earth_lead',
      },
      {
        when: 'arrangement is common-earth and given bond_position',
        formula: 'line_lead + arrester_height + bond_position',
      },
      { when: 'arrangement is common-earth', formula: 'line_lead + arrester_height + earth_lead' },
      { formula: 'arrester_height + tail_length' },
    ],
  },
  load_impedance: {
    symbol: 'Z_\\mathrm{L}',
    meaning: 'impedance behind which the arrester sees the wave',
    unit: 'ohm',
    basis: derivation('wave as twice its voltage behind Z'),
    variants: [
      { when: 'arrangement is separate-earths', formula: 'line_impedance + earth_resistance' },
      { when: 'given earth_resistance', formula: 'line_impedance + earth_resistance' },
      { formula: 'line_impedance' },
    ],
  },
} satisfies Readonly<Record<string, StepDefinition>>;
