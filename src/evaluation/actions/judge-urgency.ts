import type { WordedCheck } from '../../engine/definition/evaluated.ts';
import { compareUrgency, type Urgency } from './action.ts';

/** Whether something is to be done about a check. */
export function isOpen({ verdict }: Pick<WordedCheck, 'verdict'>): boolean {
  return verdict !== 'complies' && verdict !== 'met';
}

/**
 * A requirement comes before a recommendation, whether it is not met or cannot be judged: what nobody knows may be as dangerous as what is
 * known to be wrong.
 */
export function urgencyOf({
  force,
  verdict,
  margin,
}: Pick<WordedCheck, 'force' | 'verdict' | 'margin'>): Urgency {
  if (!isOpen({ verdict })) return { class: 'nothing-open', margin: Number.POSITIVE_INFINITY };
  const state = verdict === 'cannot-be-judged' ? 'not-judged' : 'not-met';
  const part = margin?.of === 'limit' ? margin.value : Number.NEGATIVE_INFINITY;
  return { class: `${force}-${state}`, margin: part };
}

/** The checks about which something is to be done, the most urgent first. */
export function findOpen(checks: readonly WordedCheck[]): readonly WordedCheck[] {
  return checks.filter(isOpen).sort((a, b) => compareUrgency(urgencyOf(a), urgencyOf(b)));
}
