import { fromSi } from '../../quantity/quantity.ts';
import { ENGLISH } from '../../words/words.ts';
import type { EvaluatedNote } from '../evaluated-note.ts';
import type { Json } from '../machine-report.ts';
import { wordNote } from '../word-note.ts';
import type { NoteAction } from './action.ts';
import { listActions } from './list-actions.ts';

/** What the report for machines says of what is to be done, the most urgent first. */
export function reportActions(note: EvaluatedNote): Json {
  return listActions(wordNote(note, ENGLISH)).map(reportAction);
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
    variants: rest.variants.map(({ block: variant, verdict, governing }) => ({
      block: variant.id,
      verdict: ENGLISH.word({ key: `verdict.${verdict}`, data: {} }),
      margin: governing?.margin?.of === 'limit' ? governing.margin.value : null,
    })),
    owner: owner ?? null,
    due: due ?? null,
    proof: proof ?? null,
  };
}
