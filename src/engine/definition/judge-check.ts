import { problem } from '../../diagnostics/problem.ts';
import { areEqual, compareValues } from '../../formula/compare-values.ts';
import { evaluateFormula } from '../../formula/evaluate-formula.ts';
import type { Formula } from '../../formula/formula.ts';
import { isWithinNumbers } from '../../quantity/quantity.ts';
import type { Basis } from './basis.ts';
import type { CompiledCalculation, CompiledCandidate, CompiledCheck, CompiledStep } from './compiled.ts';
import { type Computation, decide } from './computation.ts';
import type { Force } from './definition.ts';
import type { Verdict } from './evaluated.ts';
import { type Margin, marginOf } from './margin.ts';
import { undecidedVariant } from './plan-step.ts';
import { sayOperands } from './say-operands.ts';
import { unitOf } from './show-step.ts';

/** The outcome of one check, before it is worded for print. */
export interface Judgement extends ComparedValue {
  readonly check: CompiledCheck;
  readonly verdict: Verdict;
  readonly force: Force;
  readonly basis: Basis;
}

/** One value of a check set against its limit. */
interface ComparedValue {
  /** Which of the competing values it is. */
  readonly candidate: CompiledCandidate;
  /** Undefined where it cannot be judged. */
  readonly met: boolean | undefined;
  /** Undefined where there are no two numbers to compare. */
  readonly distance: Margin | undefined;
  /** By which the least favourable is found: the distance; infinite where words decide, or where it cannot be judged. */
  readonly margin: number;
  readonly value: number | undefined;
  readonly limit: number | undefined;
  /** The words that stand where the value, or the limit, has no number. */
  readonly words: { readonly of: 'value' | 'limit'; readonly says: string } | undefined;
  readonly atLimit: boolean;
  /** What is absent, by name. */
  readonly missing: readonly string[];
}

/**
 * Judges one check over computed values, on the least favourable of those that compete for it; undefined where the check
 * does not apply.
 */
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
  const { candidates } = check;
  let governing = compareOne(calculation, check, candidates[0]!, state);
  for (const candidate of candidates) {
    if (candidate === candidates[0] || !competes(calculation, check, candidate, state)) continue;
    const next = compareOne(calculation, check, candidate, state);
    if (isLessFavourable(next, governing)) governing = next;
  }
  // Judged at very many values: fields one by one are several times as quick as spread objects.
  const { candidate, met, distance, margin, value, limit, words, atLimit, missing } = governing;
  const verdict = verdictOf(force, met);
  return {
    check,
    verdict,
    force,
    basis,
    candidate,
    met,
    distance,
    margin,
    value,
    limit,
    words,
    atLimit,
    missing,
  };
}

/**
 * A value that fails outweighs one that cannot be judged, and that one a value that keeps to its limit. Of like parts of their
 * limits, as with values of nought, the larger distance fails by more.
 */
function isLessFavourable(a: ComparedValue, b: ComparedValue): boolean {
  const [left, right] = [rankOf(a), rankOf(b)];
  if (left !== right) return left < right;
  if (a.margin !== b.margin) return a.margin < b.margin;
  return a.met === false && apart(a) > apart(b);
}

function rankOf({ met }: ComparedValue): number {
  return met === false ? 0 : met === undefined ? 1 : 2;
}

function apart({ value, limit }: ComparedValue): number {
  return value === undefined || limit === undefined ? 0 : Math.abs(value - limit);
}

function compareOne(
  calculation: CompiledCalculation,
  check: CompiledCheck,
  candidate: CompiledCandidate,
  state: Computation,
): ComparedValue {
  const words = wordsOfSides(candidate, state);
  const value = tryEvaluate(calculation, check, candidate.value, state);
  const limit = tryEvaluate(calculation, check, candidate.limit, state);
  const missing = findMissing(calculation, check, candidate, state);
  const spoken = words === undefined ? undefined : check.definition.verdictOfWords?.[words.says];
  // What melts fails by any limit, also by one that is not given.
  const failsByItself = words?.of === 'value' && spoken === false;
  if (words !== undefined && spoken !== undefined && (missing.length === 0 || failsByItself)) {
    const margin = spoken ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;
    return {
      candidate,
      met: spoken,
      distance: undefined,
      margin,
      value,
      limit,
      words,
      atLimit: false,
      missing,
    };
  }
  if (value === undefined || limit === undefined || missing.length > 0) {
    const margin = Number.NEGATIVE_INFINITY;
    return {
      candidate,
      met: undefined,
      distance: undefined,
      margin,
      value,
      limit,
      words,
      atLimit: false,
      missing,
    };
  }
  const { relation } = check.definition;
  const distance = marginOf(value, relation, limit);
  const met = compareValues(value, relation, limit);
  const atLimit = areEqual(value, limit);
  return { candidate, met, distance, margin: distance.value, value, limit, words, atLimit, missing };
}

/** A value whose condition fails, or that rests on a step which this case leaves out, does not compete. */
export function competes(
  calculation: CompiledCalculation,
  check: CompiledCheck,
  candidate: CompiledCandidate,
  state: Computation,
): boolean {
  if (candidate.when && !decide(candidate.when, state, check.name)) return false;
  const leftOut = (name: string): boolean => {
    if (state.values.has(name) || state.words.has(name)) return false;
    const step = calculation.steps.find((s) => s.name === name);
    if (!step) return false;
    return (step.when && !decide(step.when, state, name)) || namesOfStep(step, state).some(leftOut);
  };
  return ![...candidate.value.names, ...candidate.limit.names].some(leftOut);
}

/** The verdict on a requirement or a recommendation. */
export function verdictOf(force: Force, met: boolean | undefined): Verdict {
  if (met === undefined) return 'cannot-be-judged';
  if (force === 'requirement') return met ? 'complies' : 'does-not-comply';
  return met ? 'met' : 'not-met';
}

function wordsOfSides({ value, limit }: CompiledCandidate, state: Computation): ComparedValue['words'] {
  if (state.words.size === 0) return undefined;
  for (const [of, formula] of [['value', value] as const, ['limit', limit] as const]) {
    const says = wordsIn(formula, state);
    if (says !== undefined) return { of, says };
  }
  return undefined;
}

function wordsIn(formula: Formula, state: Computation): string | undefined {
  return formula.names.map((name) => state.words.get(name)).find((words) => words !== undefined);
}

function tryEvaluate(
  calculation: CompiledCalculation,
  check: CompiledCheck,
  formula: Formula,
  state: Computation,
): number | undefined {
  const reading = evaluateFormula(formula, state.values);
  if (reading.ok) {
    if (isWithinNumbers(reading.value, check.unit)) return reading.value;
    const values = sayOperands(formula.names, state.values, (name) => unitOf(calculation, name));
    state.faults.push({ problem: problem('not-finite', { expression: formula.text, values }) });
    return undefined;
  }
  if (reading.problem.code !== 'absent-value') state.faults.push({ problem: reading.problem });
  return undefined;
}

/** The givens that are absent and without which the check cannot be judged: through steps down to givens. */
function findMissing(
  calculation: CompiledCalculation,
  check: CompiledCheck,
  { value, limit }: CompiledCandidate,
  state: Computation,
): string[] {
  const { needs = [] } = check.definition;
  const isThere = (name: string) => state.values.has(name) || state.words.has(name);
  if (value.names.every(isThere) && limit.names.every(isThere) && needs.every(isThere)) return [];
  const missing = new Set<string>();
  const visit = (name: string): void => {
    if (isThere(name)) return;
    const step = calculation.steps.find((s) => s.name === name);
    if (step) {
      const { work } = step;
      const absent =
        work.kind === 'formula' ? undecidedVariant(calculation, work.variants, state) : undefined;
      if (absent !== undefined) missing.add(absent);
      else for (const used of namesOfStep(step, state)) visit(used);
    } else if (calculation.givens.has(name)) missing.add(name);
  };
  for (const name of [...value.names, ...limit.names, ...needs]) visit(name);
  return [...missing];
}

/** The names on which a step rests, by the variant that applies. */
function namesOfStep(step: CompiledStep, state: Computation): readonly string[] {
  if (step.work.kind === 'solver') return step.work.step.needs;
  if (step.work.kind === 'table') return step.work.step.table.by;
  const variant = step.work.variants.find((v) => !v.when || decide(v.when, state, step.name));
  return variant?.formula.names ?? [];
}
