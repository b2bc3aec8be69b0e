import { evaluateCondition } from '../../formula/evaluate-formula.ts';
import type { Formula } from '../../formula/formula.ts';
import { withDefaults } from './apply-defaults.ts';
import type { CompiledCalculation, CompiledStep } from './compiled.ts';
import { type Computation, compute } from './compute.ts';
import type { Inputs } from './inputs.ts';
import { formulaValues } from './inputs.ts';

/** Givens that were written and that nothing of this evaluation looks at, with the reason in words. */
export function findUnused(
  calculation: CompiledCalculation,
  inputs: Inputs,
): { readonly name: string; readonly because: string }[] {
  const state = compute(calculation, formulaValues(calculation, withDefaults(calculation, inputs)));
  const used = namesUsed(calculation, state);
  return [...inputs.keys()]
    .filter((name) => !isUsed(name, used))
    .map((name) => ({ name, because: 'no formula or check of the chosen options needs it' }));
}

/** Whether a given, or a column of it, stands among the names that were used. */
export function isUsed(given: string, used: ReadonlySet<string>): boolean {
  return [...used].some((name) => name === given || name.startsWith(`${given}.`));
}

/** Every name that a formula, check or condition could look at with the chosen options. */
function namesUsed(calculation: CompiledCalculation, state: Computation): Set<string> {
  return collectNames(calculation, state, (condition) => condition.names);
}

/** Every name that this evaluation really looked at: what stands behind a decided `and` or `or` was not asked. */
export function namesAsked(calculation: CompiledCalculation, state: Computation): Set<string> {
  return collectNames(calculation, state, (condition) => {
    const asked = new Set<string>();
    const values = new Map(state.values);
    values.get = (name) => {
      asked.add(name);
      return state.values.get(name);
    };
    values.has = (name) => {
      asked.add(name);
      return state.values.has(name);
    };
    evaluateCondition(condition, values);
    return [...asked];
  });
}

function collectNames(
  calculation: CompiledCalculation,
  state: Computation,
  namesOfCondition: (condition: Formula) => readonly string[],
): Set<string> {
  const used = new Set<string>();
  const add = (condition: Formula | undefined): void => {
    for (const name of condition ? namesOfCondition(condition) : []) used.add(name);
  };
  const addFormula = (formula: Formula): void => {
    for (const name of formula.names) used.add(name);
  };
  for (const step of calculation.steps) {
    const variant = state.variants.get(step.name);
    for (const name of namesOf(step, variant?.formula.names)) used.add(name);
    add(step.when);
    for (const { when } of step.words) add(when);
    if (step.work.kind === 'formula') for (const { when } of step.work.variants) add(when);
  }
  for (const check of calculation.checks) {
    for (const formula of [check.value, check.limit]) addFormula(formula);
    add(check.when);
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
