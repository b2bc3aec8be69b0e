import type { RowCheck } from '../evaluation/schedule/evaluated-schedule.ts';
import { sayVerdictInFull } from '../evaluation/word-calculation.ts';
import { say } from '../words/sentence.ts';
import { ENGLISH } from '../words/words.ts';
import type { CheckChange, FactChange } from './comparison.ts';

/**
 * Checks of a block or row that turned, or of which something else changed.
 *
 * @param factsOf what changed of the recorded facts of a check beside its verdict
 */
export function compareChecks(
  before: readonly RowCheck[],
  after: readonly RowCheck[],
  factsOf: (name: string) => readonly FactChange[],
): CheckChange[] {
  const byName = (checks: readonly RowCheck[]) => new Map(checks.map((check) => [check.name, check]));
  const [old, fresh] = [byName(before), byName(after)];
  return [...new Set([...fresh.keys(), ...old.keys()])].flatMap((name): CheckChange[] => {
    const [a, b] = [old.get(name), fresh.get(name)];
    const facts = factsOf(name);
    const turned = (a && wordTurning(a)) !== (b && wordTurning(b));
    if (!turned && facts.length === 0) return [];
    return [
      {
        name,
        criterion: ENGLISH.word((b ?? a)!.criterion),
        ...(a ? { before: wordTurning(a) } : {}),
        ...(b ? { after: wordTurning(b), afterCode: b.verdict } : {}),
        turned,
        facts,
      },
    ];
  });
}

/** A verdict turns with its word, at the limit, and where it holds over another part of the ranges of the givens. */
function wordTurning(check: RowCheck): string {
  const kept = check.overRange?.holds ?? true;
  const verdict = sayVerdictInFull(check);
  return ENGLISH.word(kept ? verdict : say('verdict.over-part-only', { verdict }));
}
