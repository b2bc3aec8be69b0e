import type { ComparedNetwork } from './compared-network.ts';
import { networksAtTerminals } from './networks-at-terminals.ts';
import { networksOfLinesAndGenerators } from './networks-of-lines-and-generators.ts';

/** Every network that is solved by the engine and by the circuit simulator. */
export const comparedNetworks: readonly ComparedNetwork[] = [
  ...networksAtTerminals,
  ...networksOfLinesAndGenerators,
];
