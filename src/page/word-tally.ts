import type { CaseTally, ForceTally } from '../evaluation/tally-verdicts.ts';

const WORDS = {
  complies: ['complies', 'comply'],
  'does-not-comply': ['does not comply', 'do not comply'],
  'cannot-be-judged': ['cannot be judged', 'cannot be judged'],
  met: ['is met', 'are met'],
  'not-met': ['is not met', 'are not met'],
} as const;

/** '3 of 4 requirements comply, 1 does not comply; 2 of 2 recommendations are met'; empty where nothing is counted. */
export function wordTally({ requirement, recommendation }: Omit<CaseTally, 'case' | 'required'>): string {
  const parts = [wordCounts(requirement, 'requirement'), wordCounts(recommendation, 'recommendation')];
  return parts.filter((part) => part !== '').join('; ');
}

/** The first verdict of a force is the good one, and its count is told even where it is nought. */
export function wordCounts(
  { total, counts }: ForceTally,
  what: 'requirement' | 'recommendation' | 'row',
): string {
  const [good, ...others] = counts;
  if (total === 0 || !good) return '';
  const [one, many] = WORDS[good.verdict];
  const head = `${good.count} of ${total} ${total === 1 ? what : `${what}s`} ${total === 1 ? one : many}`;
  const rest = others
    .filter(({ count }) => count > 0)
    .map(({ verdict, count }) => `${count} ${WORDS[verdict][count === 1 ? 0 : 1]}`);
  return [head, ...rest].join(', ');
}
