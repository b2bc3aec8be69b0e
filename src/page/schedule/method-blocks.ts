import type { WordedNote, WordedSchedule } from '../../evaluation/evaluated-note.ts';
import type { Words } from '../../words/words.ts';
import type { NumberedBlock } from '../note-context.ts';
import type { Numbering } from '../numbering.ts';
import { shareCautions } from './shared-cautions.ts';
import { commonGivens } from './view-schedule.ts';

/**
 * The schedules of a note as its annexes take them into account: each as one calculation, with what its rows have in common, numbered
 * 'S1'. Sources of cautions are those of all rows.
 */
export function methodBlocks(
  { schedules }: Pick<WordedNote, 'schedules'>,
  { prefix }: Numbering,
  words: Words,
): readonly NumberedBlock[] {
  return schedules.map((schedule, index) => ({
    id: schedule.id,
    title: schedule.title,
    number: `S${prefix}${index + 1}`,
    source: schedule.source.common,
    accepted: [],
    evaluated: { ...schedule.method, givens: commonGivens(schedule), cautions: cautionsOf(schedule, words) },
  }));
}

function cautionsOf({ rows }: WordedSchedule, words: Words) {
  return shareCautions(rows).map(({ caution }) => ({ ...caution, text: words.word(caution.text) }));
}
