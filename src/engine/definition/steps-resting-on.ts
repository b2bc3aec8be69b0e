import type { CompiledCalculation, CompiledStep } from './compiled.ts';
import { stepNeeds } from './plan-step.ts';

const KNOWN = new WeakMap<CompiledCalculation, Map<string, readonly CompiledStep[]>>();

/**
 * The steps whose value may be another where some givens are, in the order in which they are worked. A numerical method may read
 * what it does not declare (`again`), so it rests on everything.
 */
export function stepsRestingOn(
  calculation: CompiledCalculation,
  givens: readonly string[],
): readonly CompiledStep[] {
  const known = KNOWN.get(calculation) ?? new Map<string, readonly CompiledStep[]>();
  KNOWN.set(calculation, known);
  const key = givens.join(' ');
  const found = known.get(key) ?? findSteps(calculation, givens);
  known.set(key, found);
  return found;
}

function findSteps({ steps }: CompiledCalculation, givens: readonly string[]): readonly CompiledStep[] {
  const changed = new Set(givens);
  return steps.filter((step) => {
    const rests = step.work.kind === 'solver' || namesRead(step).some((name) => changed.has(name));
    if (rests) changed.add(step.name);
    return rests;
  });
}

function namesRead(step: CompiledStep): readonly string[] {
  return [...stepNeeds(step), ...step.words.flatMap(({ when }) => when.names)];
}
