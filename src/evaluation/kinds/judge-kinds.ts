import { inferKinds, type KindFault } from '../../engine/definition/infer-kinds.ts';
import type { FormulaValues } from '../../formula/formula.ts';
import { contentKey } from '../../memory/content-key.ts';
import type { Memory } from '../../memory/memory.ts';
import type { KindTerm } from '../../quantity/kind-term.ts';
import type { KindUse } from '../inputs/kind-use.ts';
import type { KnownCalculation } from '../known-calculation.ts';
import { copyKindState, enterKindState, type KindState, readKindState } from './kind-state.ts';
import { type LearntKinds, learnKinds } from './learn-kinds.ts';

/** What a block tells of kinds. */
export interface KindQuestion {
  readonly calculation: KnownCalculation;
  readonly uses: readonly KindUse[];
  /** Whether its formulas are to be examined too: at the values of a run where there was one. */
  readonly examine: boolean;
  readonly run?: { readonly values: FormulaValues } | undefined;
}

export interface KindJudgement extends LearntKinds {
  /** Formulas whose kinds contradict one another; none are looked for where a given has failed. */
  readonly faults: readonly KindFault[];
  /** The terms of the givens, columns and steps of the block. */
  readonly terms: ReadonlyMap<string, KindTerm>;
}

/** What is remembered of a judgement: it changes the terms of values elsewhere, and those changes are data too. */
interface Judged extends LearntKinds {
  readonly faults: readonly KindFault[];
  readonly after: KindState;
}

/**
 * Whether the kinds of all values of a block go together, with those of the values elsewhere that it takes. What is learnt of these
 * stays with them, for all blocks that follow.
 *
 * @param termOf the live term of a value in the register or in another block
 */
export function judgeKinds(
  memory: Memory,
  question: KindQuestion,
  termOf: (target: string) => KindTerm | undefined,
): KindJudgement {
  const { calculation, uses, examine, run } = question;
  const taken = new Map(
    targetsOf(uses).flatMap((target) => {
      const term = termOf(target);
      return term ? [[keyOf(target), term] as const] : [];
    }),
  );
  const before = readKindState(taken);
  const worked = run ? memory.nameOf(run) : '';
  const content = [calculation.key, contentKey(uses), `${examine}`, worked, contentKey(before)].join('\n');
  const judged = memory.recall('kinds', content, () => judge(question, before));
  const { diagnostics, failed, faults, after } = judged;
  const terms = enterKindState(after, taken);
  for (const key of taken.keys()) terms.delete(key);
  return { diagnostics, failed, faults, terms };
}

function judge({ calculation, uses, examine, run }: KindQuestion, before: KindState): Judged {
  const taken = copyKindState(before);
  const own = new Map<string, KindTerm>();
  const learnt = learnKinds(uses, own, (target) => taken.get(keyOf(target)));
  const faults =
    examine && learnt.failed.size === 0 ? inferKinds(calculation.compiled, own, run?.values) : [];
  return { ...learnt, faults, after: readKindState(new Map([...taken, ...own])) };
}

function targetsOf(uses: readonly KindUse[]): string[] {
  return uses.flatMap(({ from }) => {
    if (from.type === 'target') return [from.target];
    return from.type === 'formula' ? [...from.symbols.keys()] : [];
  });
}

/** Tells a value elsewhere from the givens and steps of the block: no name has a blank. */
function keyOf(target: string): string {
  return `taken ${target}`;
}
