import { evaluateCondition } from '../../formula/evaluate-formula.ts';
import type { Formula, ValueLookup } from '../../formula/formula.ts';
import { withDefaults } from './apply-defaults.ts';
import type { CompiledCalculation, CompiledCheck, CompiledStep } from './compiled.ts';
import type { Computation } from './computation.ts';
import { compute } from './compute.ts';
import type { Inputs } from './inputs.ts';
import { formulaValues } from './inputs.ts';
import { pointsOver } from './rows.ts';

/**
 * Givens that were written and that nothing of this evaluation looks at, by name; `computed` is what came
 * of them, where it is known.
 */
export function findUnused(
  calculation: CompiledCalculation,
  inputs: Inputs,
  computed?: Computation,
): string[] {
  const state =
    computed ?? compute(calculation, formulaValues(calculation, withDefaults(calculation, inputs)));
  const used = namesThatMatter(calculation, state);
  return [...inputs.keys()].filter((name) => !isUsed(name, used));
}

/** Whether a given, or a column of it, stands among the names that were used. */
export function isUsed(given: string, used: ReadonlySet<string>): boolean {
  if (used.has(given)) return true;
  const columns = `${given}.`;
  for (const name of used) if (name.startsWith(columns)) return true;
  return false;
}

/** Every name that this evaluation looked at: what stands behind a decided `and` or `or` was not asked. */
export function namesAsked(calculation: CompiledCalculation, state: Computation): Set<string> {
  const used = new Set<string>();
  const add = (names: Iterable<string>): void => {
    for (const name of names) used.add(name);
  };
  const ask = (condition: Formula | undefined, over?: string): void => {
    if (!condition) return;
    const { compared, present } = askCondition(calculation, condition, state, over);
    add(compared);
    add(present);
  };
  for (const step of calculation.steps) {
    add(namesOf(step, state));
    for (const condition of conditionsOf(step)) ask(condition);
  }
  for (const check of calculation.checks) {
    add(namesOfCheck(check));
    for (const { when } of [check, ...check.forces, ...check.remedies, ...check.candidates]) ask(when);
  }
  for (const { condition, over } of calculation.validity) ask(condition, over);
  for (const { when, definition } of calculation.cautions) ask(when, definition.over);
  for (const { when } of calculation.alternatives) ask(when);
  return used;
}

/**
 * The names on which what this evaluation prints depends. A step or check that does not apply needs nothing, and that a
 * value is present (`given x`) matters only where it decides for something: a count of rods is of no use to a single rod.
 */
function namesThatMatter(calculation: CompiledCalculation, state: Computation): Set<string> {
  const used = new Set<string>();
  const add = (names: Iterable<string>): void => {
    for (const name of names) used.add(name);
  };
  const isChoice = (name: string) => calculation.givens.get(name)?.definition.type === 'choice';
  const ask = (condition: Formula | undefined, over?: string, isLeftOut = false): boolean => {
    if (!condition) return true;
    const { compared, present, holds } = askCondition(calculation, condition, state, over);
    // An edition may be named wherever the calculation knows editions, though it decides nothing here.
    add(compared);
    add(condition.names.filter(isChoice));
    if (holds && !isLeftOut) add(present);
    return holds;
  };
  for (const step of calculation.steps) {
    // A step for which the case has no formula decides nothing by what its conditions find there.
    const isLeftOut =
      step.work.kind === 'formula' && !state.values.has(step.name) && !state.words.has(step.name);
    if (!ask(step.when, undefined, isLeftOut)) continue;
    add(namesOf(step, state));
    for (const condition of conditionsOf(step)) ask(condition, undefined, isLeftOut);
  }
  for (const check of calculation.checks) {
    if (!ask(check.when)) continue;
    add(namesOfCheck(check));
    for (const { when } of [...check.forces, ...check.remedies, ...check.candidates]) ask(when);
  }
  for (const { condition, over } of calculation.validity) {
    add(askCondition(calculation, condition, state, over).compared);
  }
  for (const { when, definition } of calculation.cautions) ask(when, definition.over);
  for (const { when } of calculation.alternatives) ask(when);
  return used;
}

/** The names that a condition compared, those whose presence it asked for, and whether it holds, in any row of `over`. */
function askCondition(
  calculation: CompiledCalculation,
  condition: Formula,
  state: Computation,
  over: string | undefined,
) {
  const compared: string[] = [];
  const present: string[] = [];
  const values: ValueLookup = {
    get: (name) => {
      compared.push(name);
      return state.values.get(name);
    },
    has: (name) => {
      present.push(name);
      return state.values.has(name);
    },
  };
  const answers = pointsOver(calculation, over, state.values).map((rows) =>
    evaluateCondition(condition, values, { rows }),
  );
  return { compared, present, holds: answers.some((reading) => reading.ok && reading.value) };
}

function conditionsOf({ when, words, work }: CompiledStep): readonly (Formula | undefined)[] {
  const variants = work.kind === 'formula' ? work.variants : [];
  return [when, ...words.map((word) => word.when), ...variants.map((variant) => variant.when)];
}

function namesOfCheck({ candidates, definition }: CompiledCheck): readonly string[] {
  const judged = candidates.flatMap(({ value, limit }) => [...value.names, ...limit.names]);
  return [...judged, ...(definition.needs ?? [])];
}

function namesOf({ name, work }: CompiledStep, state: Computation): readonly string[] {
  if (work.kind === 'table') return work.step.table.by;
  if (work.kind === 'solver') return [...work.step.needs, ...(work.step.mayUse ?? [])];
  // Where words stand in place of a number any of the formulas may have led to them.
  if (state.words.has(name)) return work.variants.flatMap(({ formula }) => formula.names);
  return state.variants.get(name)?.formula.names ?? [];
}
