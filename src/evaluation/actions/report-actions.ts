import { fromSi } from '../../quantity/quantity.ts';
import { ENGLISH } from '../../words/words.ts';
import type { EvaluatedNote } from '../evaluated-note.ts';
import type { Json } from '../machine-report.ts';
import { wordNote } from '../word-note.ts';
import { compareUrgency, type NoteAction } from './action.ts';
import { listActions } from './list-actions.ts';
import { listRowActions, type RowsAction } from './list-row-actions.ts';

/** What the report for machines says of what is to be done, the most urgent first. */
export function reportActions(note: EvaluatedNote): Json {
  const worded = wordNote(note, ENGLISH);
  return [
    ...listActions(worded).map((action) => ({ urgency: action.urgency, json: reportAction(action) })),
    ...listRowActions(worded).map((action) => ({ urgency: action.urgency, json: reportRows(action) })),
  ]
    .sort((a, b) => compareUrgency(a.urgency, b.urgency))
    .map(({ json }) => json);
}

/** The rows by their names; what limits each stands with the row. */
function reportRows({ schedule, case: ofCase, urgency, rows, author }: RowsAction): Json {
  return {
    block: schedule.id,
    case: ofCase ?? null,
    rows: rows.map(({ id }) => id),
    urgency: urgency.class,
    by: author ? 'author' : 'calculation',
    what: author?.what ?? [],
    where: author?.where ?? schedule.title,
    owner: author?.owner ?? null,
    due: author?.due ?? null,
    proof: author?.proof ?? null,
  };
}

function reportAction({
  block,
  findings,
  urgency,
  by,
  what,
  where,
  owner,
  due,
  proof,
  ...rest
}: NoteAction): Json {
  return {
    block: block.id,
    case: block.case ?? null,
    checks: findings.map(({ name }) => name),
    urgency: urgency.class,
    by,
    what: what.map((text) => ENGLISH.word(text)),
    where,
    limiting: rest.limiting.map(({ given, seek, meaning, result }) => ({
      given,
      seek,
      meaning,
      ...(result.type === 'number'
        ? { value: fromSi(result.si, result.unit), unit: result.unit.text, text: result.displayed.text }
        : {}),
    })),
    variants: rest.variants.map(({ block: variant, verdict, governing, governedBy }) => ({
      block: variant.id,
      verdict: ENGLISH.word({ key: `verdict.${verdict}`, data: {} }),
      margin: governing?.margin?.of === 'limit' ? governing.margin.value : null,
      governed_by: governedBy
        ? {
            block: governedBy.block.id,
            check: governedBy.check.name,
            margin: governedBy.check.margin!.value,
          }
        : null,
    })),
    owner: owner ?? null,
    due: due ?? null,
    proof: proof ?? null,
  };
}
