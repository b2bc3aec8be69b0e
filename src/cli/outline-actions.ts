import type { NoteAction } from '../evaluation/actions/action.ts';
import { listActions } from '../evaluation/actions/list-actions.ts';
import type { WordedNote } from '../evaluation/evaluated-note.ts';
import { sayVerdict } from '../evaluation/word-calculation.ts';
import type { Words } from '../words/words.ts';

/** What is to be done, the most urgent first: a line for each calculation, with the limiting values and who sees to it. */
export function outlineActions(note: WordedNote, words: Words): string[] {
  const actions = listActions(note);
  if (actions.length === 0) return [];
  return [
    '  to do, the most urgent first:',
    ...actions.map((action, i) => `    ${i + 1}. ${line(action, words)}`),
  ];
}

function line({ block, what, limiting, variants, where, owner, due }: NoteAction, words: Words): string {
  const place = where === block.title ? block.id : `${block.id}, ${where}`;
  const parts = [
    ...what.slice(0, 1).map((text) => words.word(text)),
    ...limiting.flatMap(({ meaning, result }) =>
      result.type === 'number' ? [`${meaning}: ${result.displayed.text}`] : [],
    ),
    ...variants.map((one) => `as calculated in ${one.block.id}: ${words.word(sayVerdict(one.verdict))}`),
    ...[owner, due && `due ${due}`].filter((one) => one !== undefined && one !== ''),
  ];
  return `${place}: ${parts.join('; ')}`;
}
