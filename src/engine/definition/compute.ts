import { problem } from '../../diagnostics/problem.ts';
import type { FormulaValue } from '../../formula/formula.ts';
import { isWithinNumbers } from '../../quantity/quantity.ts';
import type { CompiledCalculation, CompiledStep, CompiledVariant } from './compiled.ts';
import type { Computation, ComputeFault } from './computation.ts';
import { ownMeaning } from './own-text.ts';
import { oneByOne } from './piece-task.ts';
import { needed, planStep } from './plan-step.ts';
import { sayOperands } from './say-operands.ts';
import { unitOf } from './show-step.ts';
import { type Changes, evaluateVariant, supply, type WorkTools } from './work-step.ts';

/** Evaluates all steps over the values of the givens. Pure and quick: ranges and limiting values call it often. */
export function compute(
  calculation: CompiledCalculation,
  givens: ReadonlyMap<string, FormulaValue>,
  tools: WorkTools = { spread: oneByOne },
): Computation {
  const state: Computation = {
    givens,
    values: new Map(givens),
    words: new Map(),
    variants: new Map(),
    solutions: new Map(),
    faults: [],
  };
  for (const step of calculation.steps) computeStep(calculation, step, state, tools);
  return state;
}

/** A computation of one's own, whose values may be brought to other points. */
export function copyComputation(before: Computation): Computation {
  return {
    givens: new Map(before.givens),
    values: new Map(before.values),
    words: new Map(before.words),
    variants: new Map(before.variants),
    solutions: new Map(before.solutions),
    faults: [...before.faults],
  };
}

/** Works one step, after those that stand before it. */
export function computeStep(
  calculation: CompiledCalculation,
  step: CompiledStep,
  state: Computation,
  tools: WorkTools,
): void {
  const plan = planStep(calculation, step, state);
  switch (plan.do) {
    case 'nothing':
      return;
    case 'without':
      if (!step.definition.optional) reportMissing(calculation, step, plan.missing, state);
      return;
    case 'say':
      state.words.set(step.name, plan.words);
      return;
    case 'work':
      workStep(calculation, step, plan.variant, state, tools);
  }
}

function workStep(
  calculation: CompiledCalculation,
  step: CompiledStep,
  variant: CompiledVariant | undefined,
  state: Computation,
  tools: WorkTools,
): void {
  if (variant) state.variants.set(step.name, variant);
  const again = (changes: Changes) => computeAgain(calculation, step.name, state, changes);
  const result = variant
    ? evaluateVariant(calculation, step, variant, state)
    : supply(calculation, step, state, tools, again);
  if (result === undefined) return;
  const lost = faultOfNumbers(calculation, step, variant, result, state);
  if (lost) state.faults.push(lost);
  else if (typeof result === 'object' && 'words' in result) state.words.set(step.name, result.words);
  else state.values.set(step.name, result);
}

function reportMissing(
  calculation: CompiledCalculation,
  step: CompiledStep,
  missing: readonly string[],
  state: Computation,
): void {
  for (const name of missing) {
    const source = calculation.steps.find((other) => other.name === name);
    const given = source
      ? undefined
      : (calculation.givens.get(name) ?? calculation.givens.get(name.split('.')[0]!));
    if (given && state.faults.some((fault) => fault.given === given.name)) continue;
    if (given) {
      const fault = problem('missing-given', {
        name: given.name,
        meaning: ownMeaning(calculation, given.name),
        step: ownMeaning(calculation, step.name),
      });
      state.faults.push({ given: given.name, problem: fault });
    } else if (state.faults.length === 0) {
      const condition = source?.when ? `: '${source.when.text}'` : '';
      throw new Error(
        `${calculation.definition.name}: step '${step.name}' needs '${name}', which its condition left out${condition}: correct that, mark '${step.name}' optional, or give it the same condition`,
      );
    }
  }
}

/** No value may be NaN or infinite, of whatever kind of step: it would spread without a word, or end in a display. */
function faultOfNumbers(
  calculation: CompiledCalculation,
  step: CompiledStep,
  variant: CompiledVariant | undefined,
  result: FormulaValue | { readonly words: string },
  state: Computation,
): ComputeFault | undefined {
  const numbers = typeof result === 'number' ? [result] : Array.isArray(result) ? result : [];
  const lost = numbers.findIndex((number) => !isWithinNumbers(number, step.unit));
  if (lost < 0) return undefined;
  const names = [
    ...needed(step, variant),
    ...(step.work.kind === 'solver' ? (step.work.step.mayUse ?? []) : []),
  ];
  const fault = problem(Number.isNaN(numbers[lost]) ? 'no-solution' : 'step-beyond-numbers', {
    step: ownMeaning(calculation, step.name),
    item: typeof result === 'number' ? undefined : lost + 1,
    values: sayOperands(names, state.values, (name) => unitOf(calculation, name)),
  });
  return { step: step.name, problem: fault };
}

/** The values of the steps before one, worked anew with other values of some givens. */
function computeAgain(
  calculation: CompiledCalculation,
  step: string,
  { givens }: Computation,
  changes: Changes,
): ReadonlyMap<string, FormulaValue> {
  const place = calculation.steps.findIndex(({ name }) => name === step);
  const before = { ...calculation, steps: calculation.steps.slice(0, place) };
  return compute(before, new Map([...givens, ...Object.entries(changes)])).values;
}
