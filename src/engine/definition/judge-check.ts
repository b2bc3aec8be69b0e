import { areEqual, compareValues } from '../../formula/compare-values.ts';
import { evaluateFormula } from '../../formula/evaluate-formula.ts';
import type { Formula } from '../../formula/formula.ts';
import { type Displayed, displaySi, USUAL_DIGITS } from '../../quantity/display.ts';
import type { Basis } from './basis.ts';

import type { CompiledCalculation, CompiledCheck } from './compiled.ts';
import { type Computation, decide } from './compute.ts';
import type { Force } from './definition.ts';
import type { Verdict } from './evaluated.ts';

/** The outcome of one check, before it is worded for print. */
export interface Judgement {
  readonly check: CompiledCheck;
  readonly verdict: Verdict;
  readonly force: Force;
  readonly basis: Basis;
  readonly value: number | undefined;
  readonly limit: number | undefined;
  /** The words that stand where the value has no number. */
  readonly words: string | undefined;
  readonly atLimit: boolean;
  /** What is absent, by name. */
  readonly missing: readonly string[];
}

/** Judges one check over computed values; undefined where it does not apply. */
export function judgeCheck(
  calculation: CompiledCalculation,
  check: CompiledCheck,
  state: Computation,
): Judgement | undefined {
  if (check.when && !decide(check.when, state, check.name)) return undefined;
  const { force, basis } = check.forces.find((f) => !f.when || decide(f.when, state, check.name)) ?? {
    force: 'requirement' as const,
    basis: check.definition.basis,
  };
  const common = { check, force, basis };
  const words = wordsIn(check.value, state) ?? wordsIn(check.limit, state);
  const value = tryEvaluate(check.value, state);
  const limit = tryEvaluate(check.limit, state);
  const missing = findMissing(calculation, check, state);
  const spoken = words === undefined ? undefined : check.definition.verdictOfWords?.[words];
  if (words !== undefined && spoken !== undefined && missing.length === 0) {
    return { ...common, verdict: word(force, spoken), value, limit, words, atLimit: false, missing };
  }
  if (value === undefined || limit === undefined || missing.length > 0) {
    return { ...common, verdict: 'cannot be judged', value, limit, words, atLimit: false, missing };
  }
  const met = compareValues(value, check.definition.relation, limit);
  return {
    ...common,
    verdict: word(force, met),
    value,
    limit,
    words,
    atLimit: areEqual(value, limit),
    missing,
  };
}

export function isMet(verdict: Verdict): boolean | undefined {
  if (verdict === 'cannot be judged') return undefined;
  return verdict === 'complies' || verdict === 'met';
}

export function word(force: Force, met: boolean): Verdict {
  if (force === 'requirement') return met ? 'complies' : 'does not comply';
  return met ? 'met' : 'not met';
}

function wordsIn(formula: Formula, state: Computation): string | undefined {
  return formula.names.map((name) => state.words.get(name)).find((words) => words !== undefined);
}

function tryEvaluate(formula: Formula, state: Computation): number | undefined {
  const reading = evaluateFormula(formula, state.values);
  if (reading.ok) return reading.value;
  if (reading.problem.code !== 'absent-value') state.faults.push({ problem: reading.problem });
  return undefined;
}

/** The givens that are absent and without which the check cannot be judged: through steps down to givens. */
function findMissing(calculation: CompiledCalculation, check: CompiledCheck, state: Computation): string[] {
  const missing = new Set<string>();
  const visit = (name: string): void => {
    if (state.values.has(name) || state.words.has(name)) return;
    const step = calculation.steps.find((s) => s.name === name);
    if (!step) {
      if (calculation.givens.has(name)) missing.add(name);
      return;
    }
    if (step.work.kind === 'formula') {
      const variant = step.work.variants.find((v) => !v.when || decide(v.when, state, step.name));
      for (const used of variant?.formula.names ?? []) visit(used);
    } else {
      for (const used of step.work.kind === 'solver' ? step.work.step.needs : step.work.step.table.by)
        visit(used);
    }
  };
  for (const name of [...check.value.names, ...check.limit.names, ...(check.definition.needs ?? [])])
    visit(name);
  return [...missing];
}

/** Digits at which value and limit, as printed, stand to each other as the true values do. */
export function displayJudged(
  value: number,
  limit: number,
  unit: CompiledCheck['unit'],
  least = USUAL_DIGITS,
  directions: { readonly value?: 'down' | 'up'; readonly limit?: 'down' | 'up' } = {},
): { value: Displayed; limit: Displayed; digits: number } {
  for (let digits = least; ; digits++) {
    const v = displaySi(value, unit, { digits, ...towards(directions.value) });
    const l = displaySi(limit, unit, { digits, ...towards(directions.limit) });
    if (digits >= MOST_DIGITS || Math.sign(compare(value, limit)) === Math.sign(v.value - l.value)) {
      return { value: v, limit: l, digits };
    }
  }
}

function towards(direction: 'down' | 'up' | undefined) {
  return direction ? { direction } : {};
}

const MOST_DIGITS = 12;

function compare(a: number, b: number): number {
  return areEqual(a, b) ? 0 : a - b;
}
