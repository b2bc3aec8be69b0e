import type { CaseTally, ForceTally } from '../evaluation/tally-verdicts.ts';

const WORDS = {
  complies: ['complies', 'comply'],
  'does-not-comply': ['does not comply', 'do not comply'],
  'cannot-be-judged': ['cannot be judged', 'cannot be judged'],
  met: ['is met', 'are met'],
  'not-met': ['is not met', 'are not met'],
} as const;

/** 'of 4 requirements 3 comply and 1 does not comply; all 2 recommendations are met'; empty where nothing is counted. */
export function wordTally({ requirement, recommendation }: Omit<CaseTally, 'case' | 'required'>): string {
  const parts = [wordForce(requirement, 'requirement'), wordForce(recommendation, 'recommendation')];
  return parts.filter((part) => part !== '').join('; ');
}

function wordForce({ total, counts }: ForceTally, what: 'requirement' | 'recommendation'): string {
  if (total === 0) return '';
  const found = counts.filter(({ count }) => count > 0);
  const [only, ...others] = found;
  if (others.length === 0) {
    const [one, many] = WORDS[only!.verdict];
    return total === 1 ? `the one ${what} ${one}` : `all ${total} ${what}s ${many}`;
  }
  const each = found.map(({ verdict, count }) => `${count} ${WORDS[verdict][count === 1 ? 0 : 1]}`);
  return `of ${total} ${what}s ${each.slice(0, -1).join(', ')} and ${each.at(-1)}`;
}
