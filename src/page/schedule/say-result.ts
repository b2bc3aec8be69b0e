import type { Verdict } from '../../engine/definition/evaluated.ts';
import { wordCounts } from '../word-tally.ts';
import { printMargin } from '../word-values.ts';
import type { RowSummary } from './summarise-rows.ts';

/** Those of requirements, and of recommendations where no row has a requirement; the good one first. */
const VERDICTS = {
  requirement: ['complies', 'does-not-comply', 'not-met', 'cannot-be-judged'],
  recommendation: ['met', 'not-met', 'cannot-be-judged'],
} as const;

/** '212 of 500 rows comply, 274 do not comply, 14 cannot be judged' */
export function sayCounts(rows: readonly RowSummary[]): string {
  const isAdvice = rows.every(({ governing }) => governing.force === 'recommendation');
  const counts = VERDICTS[isAdvice ? 'recommendation' : 'requirement'].map((verdict) => ({
    verdict,
    count: rows.filter(({ governing }) => sameVerdict(governing.verdict, verdict, isAdvice)).length,
  }));
  return wordCounts({ total: rows.length, counts }, 'row');
}

/** Beside rows with requirements, one that meets its recommendations complies. */
function sameVerdict(own: Verdict, verdict: Verdict, isAdvice: boolean): boolean {
  return own === verdict || (!isAdvice && own === 'met' && verdict === 'complies');
}

/** The row with the least margin; undefined where no row has one. */
export function findLeast(rows: readonly RowSummary[]): RowSummary | undefined {
  return rows
    .filter(({ margin }) => margin !== undefined)
    .reduce<RowSummary | undefined>((a, b) => (a && a.margin! <= b.margin! ? a : b), undefined);
}

/** What the margin of `findLeast` is called: beside rows that cannot be judged, none of which fails, it is that of a row that complies. */
export function nameLeast(rows: readonly RowSummary[]): string {
  const outcomes = new Set(rows.map(({ outcome }) => outcome));
  return outcomes.has('open') && !outcomes.has('unmet') ? 'least margin of those judged' : 'least margin';
}

/** 'least margin −62 % at DB-07'; empty where no row has a margin. */
function sayLeastMargin(rows: readonly RowSummary[]): string {
  const least = findLeast(rows);
  return least ? `${nameLeast(rows)} ${printMargin(least.governing)} at ${least.row.id}` : '';
}

/** How many rows came out how, and the least margin with its row, in one. */
export function sayOutcome(rows: readonly RowSummary[]): string {
  return [sayCounts(rows), sayLeastMargin(rows)].filter((part) => part !== '').join('; ');
}
