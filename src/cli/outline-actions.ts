import { compareUrgency, type NoteAction } from '../evaluation/actions/action.ts';
import { differInUrgency } from '../evaluation/actions/judge-urgency.ts';
import { listActions } from '../evaluation/actions/list-actions.ts';
import { listRowActions, type RowsAction } from '../evaluation/actions/list-row-actions.ts';
import type { WordedNote } from '../evaluation/evaluated-note.ts';
import { sayVerdict } from '../evaluation/word-calculation.ts';
import type { Words } from '../words/words.ts';

/** What is to be done, the most urgent first, else in the order of the note: a line for each calculation, with the limiting values and who sees to it. */
export function outlineActions(note: WordedNote, words: Words): string[] {
  const lines = [
    ...listActions(note).map((action) => ({ urgency: action.urgency, text: line(action, words) })),
    ...listRowActions(note).map((action) => ({ urgency: action.urgency, text: lineOfRows(action) })),
  ].sort((a, b) => compareUrgency(a.urgency, b.urgency));
  if (lines.length === 0) return [];
  const isOrdered = differInUrgency(lines.map(({ urgency }) => urgency));
  const order = isOrdered ? 'the worst verdict first' : 'in the order of the note';
  return [`  to do, ${order}:`, ...lines.map(({ text }, i) => `    ${i + 1}. ${text}`)];
}

/** Of many rows the most urgent are named. */
const ROWS_NAMED = 3;

function lineOfRows({ schedule, case: ofCase, rows, author }: RowsAction): string {
  const named = rows.slice(0, ROWS_NAMED).map(({ id }) => id);
  const all = rows.length > named.length ? [...named, '...'] : named;
  const total = schedule.rows.filter((row) => row.case === ofCase).length;
  const count = `${rows.length} of ${total} rows (${all.join(', ')})`;
  const parts = [count, ...(author?.what ?? []), author?.owner, author?.due && `due ${author.due}`];
  const name = ofCase === undefined ? schedule.id : `${schedule.id}, ${ofCase}`;
  return `${name}: ${parts.filter((part) => part !== undefined && part !== '').join('; ')}`;
}

function line({ block, what, limiting, variants, where, owner, due }: NoteAction, words: Words): string {
  const place = where === block.title ? block.id : `${block.id}, ${where}`;
  const parts = [
    ...what.slice(0, 1).map((text) => words.word(text).replace(/\.$/, '')),
    ...limiting.flatMap(({ meaning, result }) =>
      result.type === 'number' ? [`${meaning}: ${result.displayed.text}`] : [],
    ),
    ...variants.map(
      ({ block: variant, verdict, governedBy }) =>
        `as calculated in ${variant.id}: ${words.word(sayVerdict(verdict))}` +
        (governedBy ? `, then governed by ${governedBy.block.id}` : ''),
    ),
    ...[owner, due && `due ${due}`].filter((one) => one !== undefined && one !== ''),
  ];
  return `${place}: ${parts.join('; ')}`;
}
