import { hasPowerOfTen } from '../../quantity/display.ts';
import { fromSi } from '../../quantity/quantity.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { Computation } from './computation.ts';
import type { Judgement } from './judge-check.ts';

/**
 * The names of results that are written with a power of ten since what they are compared with has one: a result has one notation, in its own
 * line as in its check.
 */
export function findPowers(
  calculation: CompiledCalculation,
  state: Computation,
  judgements: readonly Judgement[],
): ReadonlySet<string> {
  const powers = new Set<string>();
  for (const { check, value, limit } of judgements) {
    const isWithPower = (si: number | undefined) =>
      si !== undefined && hasPowerOfTen(fromSi(si, check.unit), check.unit);
    if (![value, limit].some(isWithPower)) continue;
    // Those that compete with the one that governs stand beside it.
    for (const { root } of check.candidates.flatMap((one) => [one.value, one.limit])) {
      if (root.type === 'name') powers.add(root.name);
    }
  }
  if (powers.size === 0) return powers;
  // What is handed on unchanged is the same number.
  for (const { name } of [...calculation.steps].reverse()) {
    const root = state.variants.get(name)?.formula.root;
    if (root?.type === 'name' && powers.has(name)) powers.add(root.name);
  }
  return powers;
}
