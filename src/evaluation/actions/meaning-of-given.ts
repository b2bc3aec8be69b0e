import { CALCULATIONS } from '../../engine/calculations/registry.ts';
import { ownMeaning } from '../../engine/definition/own-text.ts';
import type { Text } from '../../words/sentence.ts';
import type { EvaluatedBlock } from '../evaluated-note.ts';

/** What a given of a block is called for readers, also one that the block does not write. */
export function meaningOfGiven({ source, evaluated }: EvaluatedBlock, name: string): Text {
  if (source.kind === 'formula') return source.given.find((given) => given.name === name)?.meaning ?? name;
  const calculation = CALCULATIONS.get(evaluated.calculation);
  return calculation ? ownMeaning(calculation, name) : name;
}
