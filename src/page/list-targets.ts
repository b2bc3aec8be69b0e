import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { annexParts, firstPageParts } from './document-parts.ts';
import { assumptionId, calculationId, holdId, referenceId, sheetId } from './ids.ts';

/** What an author may write behind # besides the words of headings, with the id to which it leads. */
export function listTargets({ blocks, schedules, source }: EvaluatedNote): Map<string, string> {
  return new Map([
    ...[...firstPageParts(''), ...annexParts({ nomenclature: true, checkRecord: true })].map(
      ({ id }): [string, string] => [id, id],
    ),
    // These are printed where they say more than the first page.
    ['contents', 'document-title'],
    ['verdicts', 'decisive'],
    ['revisions', 'revisions'],
    ...(source.frontMatter.sheets ?? []).map((_, i): [string, string] => [sheetId(i), sheetId(i)]),
    ...source.references.flatMap(({ id }) => both(id, referenceId(id))),
    ...source.assumptions.flatMap(({ id }) => both(id, assumptionId(id))),
    ...source.holds.flatMap(({ id }) => both(id, holdId(id))),
    ...blocks.flatMap(({ id }) => both(id, calculationId(id))),
    ...schedules.flatMap(({ id }) => both(id, calculationId(id))),
  ]);
}

function both(written: string, id: string): [string, string][] {
  return [
    [written, id],
    [id, id],
  ];
}
