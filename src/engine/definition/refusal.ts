import type { Sentence, SentenceData, Text } from '../../words/sentence.ts';
import type { CompiledCalculation } from './compiled.ts';

/**
 * Why a method does not hold for its values, as a solver gives it back: 'stroke {stroke} is beyond ...'.
 *
 * @param id unlike that of every other refusal of the calculation; it becomes part of the key
 * @param english with `{name}` for data
 */
export function refusal(id: string, english: string, data: SentenceData = {}): Sentence {
  return { key: `refusals.${id}`, data, english };
}

/** A refusal with the name of its calculation in its key. */
export function ownRefusal({ definition }: CompiledCalculation, refused: Text): Text {
  return typeof refused === 'string' ? refused : { ...refused, key: `${definition.name}.${refused.key}` };
}
