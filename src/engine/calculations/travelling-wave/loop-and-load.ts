import { derivation } from '../../definition/basis.ts';
import type { StepDefinition } from '../../definition/definition.ts';
import { countedLength } from '../arrester/arrester-arrangement.ts';

/** By the arrangement of an arrester: the conductor that counts, and the source impedance of the wave. */
export const loopAndLoad = {
  counted_length: countedLength,
  load_impedance: {
    symbol: 'Z_\\mathrm{L}',
    meaning: 'source impedance of the wave at the arrester',
    unit: 'ohm',
    basis: derivation('wave as twice its voltage behind Z'),
    variants: [
      { when: 'arrangement is separate-earths', formula: 'line_impedance + earth_resistance' },
      { when: 'given earth_resistance', formula: 'line_impedance + earth_resistance' },
      { formula: 'line_impedance' },
    ],
  },
} satisfies Readonly<Record<string, StepDefinition>>;
