import type { CompiledCalculation, CompiledStep } from '../compiled.ts';
import { stepNeeds } from '../plan-step.ts';

/** What may stand in place of a number where these names are: of their steps and of all on which those rest. */
export function wordsOfNames(calculation: CompiledCalculation, names: readonly string[]): Set<string> {
  const said = new Set<string>();
  const visited = new Set<string>();
  const visit = (name: string): void => {
    if (visited.has(name)) return;
    visited.add(name);
    const step = calculation.steps.find((one) => one.name === name);
    if (!step) return;
    for (const words of ownWords(step)) said.add(words);
    for (const used of stepNeeds(step)) visit(used);
  };
  for (const name of names) visit(name);
  return said;
}

function ownWords({ words, work }: CompiledStep): readonly string[] {
  const ofSolver = work.kind === 'solver' ? (work.step.says ?? []) : [];
  return [...words.map(({ says }) => says), ...ofSolver];
}
