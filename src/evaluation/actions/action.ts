import type { WordedCheck, WordedLimiting } from '../../engine/definition/evaluated.ts';
import type { Text } from '../../words/sentence.ts';
import type { WordedBlock } from '../evaluated-note.ts';

/** What is to be done about a calculation, and what it was that asks for it. */
export interface NoteAction {
  readonly block: WordedBlock;
  /** The checks that are not met or cannot be judged, the most urgent first; none where no verdict asks for anything. */
  readonly findings: readonly WordedCheck[];
  readonly urgency: Urgency;
  /** Who says what to do: the author, a proposed variant that complies, the calculation; `open` where something must be found out first. */
  readonly by: 'author' | 'variant' | 'calculation' | 'open';
  readonly what: readonly Text[];
  /** As the author names the place, else the title of the calculation. */
  readonly where: string;
  readonly owner?: string;
  /** ISO 8601 */
  readonly due?: string;
  readonly proof?: string;
  /**
   * Solved for: at each of them, other values unchanged, every finding that could be judged is met. None where a proposed variant
   * complies, or where the author says a size.
   */
  readonly limiting: readonly WordedLimiting[];
  /** Proposed variants of the calculation, in the order of the note. */
  readonly variants: readonly VariantOutcome[];
}

/** What an author says of an action, in words. */
export interface AuthorAction {
  readonly what: readonly string[];
  readonly where?: string;
  readonly owner?: string;
  /** ISO 8601 */
  readonly due?: string;
  readonly proof?: string;
}

export interface VariantOutcome {
  readonly block: WordedBlock;
  /** Of its requirements and of what is not met in its base. */
  readonly verdict: 'complies' | 'does-not-comply' | 'cannot-be-judged';
  /** The check that comes nearest to its limit, or lies furthest beyond it. */
  readonly governing: WordedCheck | undefined;
  /**
   * Of the proposed calculations that take values over from it, however many steps away, the check with the least margin, where that is less
   * than its own: what governs once the variant is built.
   */
  readonly governedBy?: { readonly block: WordedBlock; readonly check: WordedCheck };
}

/** How urgent: the lower `class` first, then the smaller `margin`. */
export interface Urgency {
  readonly class: (typeof URGENCY_CLASSES)[number];
  /** In parts of the limit; minus infinity where what is not met has none. */
  readonly margin: number;
}

/** In their order. */
const URGENCY_CLASSES = [
  'requirement-not-met',
  'requirement-not-judged',
  'requirement-once-done',
  'recommendation-not-met',
  'recommendation-not-judged',
  'nothing-open',
] as const;

/** Whether `a` comes before (negative) or behind `b`: for lists that are put together of several notes. */
export function compareUrgency(a: Urgency, b: Urgency): number {
  const byClass = URGENCY_CLASSES.indexOf(a.class) - URGENCY_CLASSES.indexOf(b.class);
  if (byClass !== 0 || a.margin === b.margin) return byClass;
  return a.margin < b.margin ? -1 : 1;
}
