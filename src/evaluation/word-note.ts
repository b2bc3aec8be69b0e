import type { Words } from '../words/words.ts';
import type { EvaluatedBlock, EvaluatedNote, WordedBlock, WordedNote } from './evaluated-note.ts';
import { wordCalculation } from './word-calculation.ts';

/** A note with words put in, for what shows it: the page, the terminal, reports. */
export function wordNote(note: EvaluatedNote, words: Words): WordedNote {
  return {
    ...note,
    blocks: note.blocks.map((block) => wordBlock(block, words)),
    proseTexts: new Map([...note.proseTexts].map(([target, text]) => [target, words.word(text)])),
  };
}

export function wordBlock(block: EvaluatedBlock, words: Words): WordedBlock {
  return { ...block, title: words.word(block.title), evaluated: wordCalculation(block.evaluated, words) };
}
