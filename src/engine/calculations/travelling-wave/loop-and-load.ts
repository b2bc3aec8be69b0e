import { derivation } from '../../definition/basis.ts';
import type { StepDefinition } from '../../definition/definition.ts';
import { countedLength } from '../arrester/arrester-arrangement.ts';

/** What the arrangement of an arrester asks for: the conductor that counts, and what the wave comes behind. */
export const loopAndLoad = {
  counted_length: countedLength,
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
