import { Memory } from '../memory/memory.ts';
import type { Words } from '../words/words.ts';
import type { EvaluatedBlock, EvaluatedNote, WordedBlock, WordedNote } from './evaluated-note.ts';
import { wordCalculation } from './word-calculation.ts';

/**
 * A note with words put in, for what shows it: the page, the terminal, reports.
 *
 * @param memory holds what was worded before: the same result in the same words is the same object
 */
export function wordNote(note: EvaluatedNote, words: Words, memory = new Memory()): WordedNote {
  return {
    ...note,
    blocks: note.blocks.map((block) => wordBlock(block, words, memory)),
    proseTexts: new Map([...note.proseTexts].map(([target, text]) => [target, words.word(text)])),
  };
}

export function wordBlock(block: EvaluatedBlock, words: Words, memory = new Memory()): WordedBlock {
  const content = `${memory.nameOf(words)} ${memory.nameOf(block.evaluated)}`;
  const evaluated = memory.recall('words', content, () => wordCalculation(block.evaluated, words));
  return { ...block, title: words.word(block.title), evaluated };
}
