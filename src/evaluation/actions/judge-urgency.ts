import type { WordedCheck } from '../../engine/definition/evaluated.ts';
import { compareUrgency, type Urgency } from './action.ts';

/** Whether something is to be done about a check. */
export function isOpen({ verdict }: Pick<WordedCheck, 'verdict'>): boolean {
  return verdict !== 'complies' && verdict !== 'met';
}

export const NOTHING_OPEN: Urgency = { class: 'nothing-open', margin: Number.POSITIVE_INFINITY };

/** Of what is proposed, its requirements: none is less in need of being done for the margin that it then has. */
export const ONCE_DONE: Urgency = { class: 'requirement-once-done', margin: Number.POSITIVE_INFINITY };

/**
 * A requirement comes before a recommendation, whether it is not met or cannot be judged: what nobody knows may be as dangerous as what is
 * known to be wrong.
 */
export function urgencyOf({
  force,
  verdict,
  margin,
}: Pick<WordedCheck, 'force' | 'verdict' | 'margin'>): Urgency {
  if (!isOpen({ verdict })) return NOTHING_OPEN;
  const state = verdict === 'cannot-be-judged' ? 'not-judged' : 'not-met';
  const part = margin?.of === 'limit' ? margin.value : Number.NEGATIVE_INFINITY;
  return { class: `${force}-${state}`, margin: part };
}

/** Whether some are more urgent than others: not where everything is met alike, now or once it is done. */
export function differInUrgency(urgencies: readonly Urgency[]): boolean {
  const [first] = urgencies;
  return urgencies.some(
    (one) =>
      one.class !== first!.class || (one.class !== NOTHING_OPEN.class && one.class !== ONCE_DONE.class),
  );
}

/** The checks about which something is to be done, the most urgent first. */
export function findOpen(checks: readonly WordedCheck[]): readonly WordedCheck[] {
  return checks.filter(isOpen).sort((a, b) => compareUrgency(urgencyOf(a), urgencyOf(b)));
}
