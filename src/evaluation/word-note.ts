import type { EvaluatedCalculation, WordedCalculation } from '../engine/definition/evaluated.ts';
import { Memory } from '../memory/memory.ts';
import type { Words } from '../words/words.ts';
import type {
  EvaluatedBlock,
  EvaluatedNote,
  WordedBlock,
  WordedNote,
  WordedSchedule,
} from './evaluated-note.ts';
import type { EvaluatedSchedule } from './schedule/evaluated-schedule.ts';
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
    schedules: note.schedules.map((schedule) => wordSchedule(schedule, words, memory)),
    proseTexts: new Map([...note.proseTexts].map(([target, text]) => [target, words.word(text)])),
  };
}

export function wordBlock(block: EvaluatedBlock, words: Words, memory = new Memory()): WordedBlock {
  return { ...block, title: words.word(block.title), evaluated: recallWords(block.evaluated, words, memory) };
}

function wordSchedule(schedule: EvaluatedSchedule, words: Words, memory: Memory): WordedSchedule {
  return {
    ...schedule,
    title: words.word(schedule.title),
    method: recallWords(schedule.method, words, memory),
    ways: schedule.ways.map((way) => recallWords(way, words, memory)),
    inFull: schedule.inFull.map((block) => wordBlock(block, words, memory)),
  };
}

function recallWords(evaluated: EvaluatedCalculation, words: Words, memory: Memory): WordedCalculation {
  const content = `${memory.nameOf(words)} ${memory.nameOf(evaluated)}`;
  return memory.recall('words', content, () => wordCalculation(evaluated, words));
}
