import { withDefaults } from './apply-defaults.ts';
import type { CompiledCalculation, CompiledStep } from './compiled.ts';
import { compute } from './compute.ts';
import type { Inputs } from './inputs.ts';
import { formulaValues } from './inputs.ts';

/** Givens that were written and that nothing of this evaluation looks at, with the reason in words. */
export function findUnused(
  calculation: CompiledCalculation,
  inputs: Inputs,
): { readonly name: string; readonly because: string }[] {
  const used = namesUsed(calculation, inputs);
  return [...inputs.keys()]
    .filter((name) => ![...used].some((u) => u === name || u.startsWith(`${name}.`)))
    .map((name) => ({ name, because: 'no formula or check of the chosen options needs it' }));
}

function namesUsed(calculation: CompiledCalculation, inputs: Inputs): Set<string> {
  const state = compute(calculation, formulaValues(calculation, withDefaults(calculation, inputs)));
  const used = new Set<string>();
  const add = (formula: { readonly names: readonly string[] } | undefined): void => {
    for (const name of formula?.names ?? []) used.add(name);
  };
  for (const step of calculation.steps) {
    const variant = state.variants.get(step.name);
    for (const name of namesOf(step, variant?.formula.names)) used.add(name);
    add(step.when);
    for (const { when } of step.words) add(when);
    if (step.work.kind === 'formula') for (const { when } of step.work.variants) add(when);
  }
  for (const check of calculation.checks) {
    for (const formula of [check.value, check.limit, check.when]) add(formula);
    for (const name of check.definition.needs ?? []) used.add(name);
    for (const { when } of [...check.forces, ...check.remedies]) add(when);
  }
  for (const { condition } of calculation.validity) add(condition);
  for (const { when } of calculation.cautions) add(when);
  for (const { when } of calculation.alternatives) add(when);
  return used;
}

function namesOf(step: CompiledStep, formulaNames: readonly string[] | undefined): readonly string[] {
  if (step.work.kind === 'table') return step.work.step.table.by;
  if (step.work.kind === 'solver') return [...step.work.step.needs, ...(step.work.step.mayUse ?? [])];
  return formulaNames ?? [];
}
