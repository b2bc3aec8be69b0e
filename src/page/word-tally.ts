import type { CaseTally, ForceTally } from '../evaluation/tally-verdicts.ts';
import { say } from '../words/sentence.ts';
import { ENGLISH } from '../words/words.ts';

/** '3 of 4 requirements comply, 1 does not comply; both recommendations are met'; empty where nothing is counted. */
export function wordTally({ requirement, recommendation }: Omit<CaseTally, 'case' | 'required'>): string {
  const parts = [wordCounts(requirement, 'requirement'), wordCounts(recommendation, 'recommendation')];
  return parts.filter((part) => part !== '').join('; ');
}

/** The first verdict of a force is the good one. */
export function wordCounts(
  { total, counts }: ForceTally,
  what: 'requirement' | 'recommendation' | 'row',
): string {
  const [good, ...others] = counts;
  if (total === 0 || !good) return '';
  return ENGLISH.word(say('tally.counts', { what, total, counts: [good, ...others] }));
}
