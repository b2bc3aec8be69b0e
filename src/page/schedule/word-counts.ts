import type { RowOutcome } from '../../evaluation/schedule/order-rows.ts';
import { sayVerdict } from '../../evaluation/word-calculation.ts';
import type { BlockCase } from '../../source/note-source.ts';
import type { Words } from '../../words/words.ts';
import { CASES_IN_ORDER } from '../case-titles.ts';
import type { RowSummary } from './summarise-rows.ts';

/** How many rows came out how. */
export type OutcomeCounts = Readonly<Record<RowOutcome, number>> & { readonly total: number };

export function countOutcomes(rows: readonly RowSummary[]): OutcomeCounts {
  const countOf = (outcome: RowOutcome) => rows.filter((row) => row.outcome === outcome).length;
  return { total: rows.length, unmet: countOf('unmet'), open: countOf('open'), met: countOf('met') };
}

/** The words of an outcome, as the checks have them that govern the rows. */
export function wordOutcome(outcome: RowOutcome, rows: readonly RowSummary[], words: Words): string {
  const advice = rows.every(({ governing }) => governing.force === 'recommendation');
  if (outcome === 'open') return words.word(sayVerdict('cannot-be-judged'));
  if (outcome === 'met') return words.word(sayVerdict(advice ? 'met' : 'complies'));
  return words.word(sayVerdict(advice ? 'not-met' : 'does-not-comply'));
}

/** The rows by case, as the story goes. */
export function rowsByCase(
  rows: readonly RowSummary[],
): ReadonlyMap<BlockCase | undefined, readonly RowSummary[]> {
  return new Map(
    CASES_IN_ORDER.flatMap((ofCase) => {
      const own = rows.filter(({ row }) => row.case === ofCase);
      return own.length > 0 ? [[ofCase, own] as const] : [];
    }),
  );
}
