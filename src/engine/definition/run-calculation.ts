import { type Problem, problem } from '../../diagnostics/problem.ts';
import { evaluateCondition } from '../../formula/evaluate-formula.ts';
import type { Formula, FormulaValue } from '../../formula/formula.ts';
import { typesetFormula } from '../../formula/typeset-formula.ts';
import { displaySi, USUAL_DIGITS } from '../../quantity/display.ts';
import type { Quantity } from '../../quantity/quantity.ts';
import { PURE_UNIT } from '../../quantity/unit.ts';
import { withDefaults } from './apply-defaults.ts';
import { wordBasis } from './basis.ts';
import type { CompiledCalculation, CompiledCheck } from './compiled.ts';
import { type Computation, type ComputeFault, compute, decide, solverValues } from './compute.ts';
import type { ColumnDefinition, GivenDefinition, RowsGiven } from './definition.ts';
import type {
  EvaluatedCalculation,
  EvaluatedCaution,
  EvaluatedCheck,
  EvaluatedLimiting,
  EvaluatedStep,
} from './evaluated.ts';
import type { FigureView } from './figure-view.ts';
import { formulaValues, type Inputs } from './inputs.ts';
import { displayJudged, isMet, type Judgement, judgeCheck, word } from './judge-check.ts';
import { judgeOverRange } from './judge-over-range.ts';
import { judgeAlternatives } from './judge-written.ts';
import { oneByOne, type Spread } from './piece-task.ts';
import { outside, wordRange } from './read-given.ts';
import { showGivens } from './show-givens.ts';
import { displayIn, type ShowContext, showStep } from './show-step.ts';
import { solveLimiting } from './solve-limiting.ts';
import type { ResultValue } from './value.ts';

/** What came of running one calculation: everything a note prints, or what is wrong with its givens. */
export type RunOutcome =
  | {
      readonly ok: true;
      readonly evaluated: EvaluatedCalculation;
      readonly values: ReadonlyMap<string, FormulaValue>;
    }
  | { readonly ok: false; readonly faults: readonly ComputeFault[] };

/** Runs one calculation over givens that were read and judged one by one. Pure. */
export function runCalculation(
  calculation: CompiledCalculation,
  written: Inputs,
  spread: Spread = oneByOne,
): RunOutcome {
  const alternativeFaults = judgeAlternatives(calculation, written);
  if (alternativeFaults.length > 0) return { ok: false, faults: alternativeFaults };
  const inputs = withDefaults(calculation, written);
  const values = formulaValues(calculation, inputs);
  const state = compute(calculation, values, spread);
  const judgements = calculation.checks.flatMap((check) => judgeCheck(calculation, check, state) ?? []);
  const validity = judgeValidity(calculation, state);
  const faults = [...state.faults, ...validity.faults];
  if (faults.length > 0) return { ok: false, faults };

  const context: ShowContext = { calculation, inputs, state, digits: digitsForChecks(judgements) };
  const steps = calculation.steps.flatMap((step) => showStep(context, step) ?? []);
  const checks = judgements.map((judgement) => showCheck(context, judgement, steps, spread));
  const view = figureView(context, steps, checks);
  const figure = calculation.definition.figure;
  const svg = figure?.draw(view);
  return {
    ok: true,
    values: state.values,
    evaluated: {
      calculation: calculation.definition.name,
      title: calculation.definition.title,
      purpose: calculation.definition.purpose,
      givens: showGivens(context),
      steps,
      checks,
      limiting: showLimiting(context),
      cautions: [...usualRangeCautions(context), ...validity.cautions, ...stateCautions(context, view)],
      ...(figure && svg !== undefined ? { figure: { caption: figure.caption, svg } } : {}),
    },
  };
}

function judgeValidity(calculation: CompiledCalculation, state: Computation) {
  const faults: ComputeFault[] = [];
  const cautions: EvaluatedCaution[] = [];
  calculation.validity.forEach((limit, i) => {
    const reading = evaluateCondition(limit.condition, state.values);
    if (!reading.ok || reading.value) return;
    const basis = limit.basis ?? calculation.steps[0]!.definition.basis;
    if (limit.otherwise === 'error') {
      const given = limit.condition.names.find((name) => calculation.givens.has(name));
      const fault: Problem = problem('outside-validity', { text: limit.text, basis: wordBasis(basis) });
      faults.push({ ...(given ? { given } : {}), problem: fault });
    } else
      cautions.push({ id: `validity-${i + 1}`, text: `Outside the usual validity: ${limit.text}`, basis });
  });
  return { faults, cautions };
}

/** Digits for names that a check compares directly, so that their own line does not read as if the verdict were wrong. */
function digitsForChecks(judgements: readonly Judgement[]): Map<string, number> {
  const digits = new Map<string, number>();
  for (const { check, value, limit } of judgements) {
    if (value === undefined || limit === undefined) continue;
    const needed = displayJudged(value, limit, check.unit).digits;
    if (needed <= USUAL_DIGITS) continue;
    for (const formula of [check.value, check.limit]) {
      if (formula.root.type === 'name')
        digits.set(formula.root.name, Math.max(needed, digits.get(formula.root.name) ?? 0));
    }
  }
  return digits;
}

function showCheck(
  context: ShowContext,
  judgement: Judgement,
  steps: readonly EvaluatedStep[],
  spread: Spread,
): EvaluatedCheck {
  const { check, value, limit, words } = judgement;
  const overRange = judgeOverRange(
    context.calculation,
    check,
    context.inputs,
    formulaValues(context.calculation, context.inputs),
    spread,
  );
  // The worst point of the ranges decides: a verdict that fails somewhere in them is not met.
  const verdict =
    overRange && !overRange.holds && isMet(judgement.verdict)
      ? word(judgement.force, false)
      : judgement.verdict;
  const { unit } = check;
  // Numbers of things read as such: 6 of 9, not 6.00 of 9.00.
  const countsThings = unit === PURE_UNIT && Number.isInteger(value) && Number.isInteger(limit);
  const ownDigits = countsThings ? 1 : Math.max(USUAL_DIGITS, ...digitsOfOperands(judgement, steps));
  const both =
    value !== undefined && limit !== undefined
      ? displayJudged(value, limit, unit, ownDigits, directionsOf(context, check))
      : undefined;
  const result = (si: number | undefined, shown = both?.value): ResultValue | undefined =>
    si === undefined
      ? undefined
      : { type: 'number', si, unit, displayed: shown ?? displaySi(si, unit, { digits: ownDigits }) };
  const missing = judgement.missing.map((name) => name);
  return {
    name: check.name,
    criterion: check.definition.criterion,
    verdict,
    force: judgement.force,
    relation: check.definition.relation,
    valueTex: typesetFormula(check.value, context.calculation.symbols),
    limitTex: typesetFormula(check.limit, context.calculation.symbols),
    value: words === undefined ? result(value) : { type: 'words', words, unit },
    limit: result(limit, both?.limit),
    atLimit: judgement.atLimit,
    missing,
    basis: judgement.basis,
    remedies: isMet(verdict) === false ? remediesOf(context, judgement) : [],
    ...(overRange ? { overRange } : {}),
  };
}

/** What is rounded to its safe side, here or where it was taken over from, reads the same in its check. */
function directionsOf({ calculation, inputs }: ShowContext, check: CompiledCheck) {
  const directionOf = ({ root }: Formula) =>
    root.type === 'name'
      ? (calculation.steps.find((step) => step.name === root.name)?.definition.rounded ??
        inputs.get(root.name)?.rounded)
      : undefined;
  const [value, limit] = [directionOf(check.value), directionOf(check.limit)];
  return { ...(value ? { value } : {}), ...(limit ? { limit } : {}) };
}

function digitsOfOperands({ check }: Judgement, steps: readonly EvaluatedStep[]): number[] {
  return [check.value, check.limit].flatMap(({ root }) => {
    const step = root.type === 'name' ? steps.find((s) => s.name === root.name) : undefined;
    if (step?.result.type !== 'number') return [];
    const { displayed } = step.result;
    const digits =
      displayed.value === 0
        ? 1
        : Math.floor(Math.log10(Math.abs(displayed.value))) - Math.round(Math.log10(displayed.lastDigit)) + 1;
    return [Math.min(digits, 12)];
  });
}

function remediesOf(context: ShowContext, { check }: Judgement): string[] {
  return check.remedies
    .filter(({ when }) => !when || decide(when, context.state, check.name))
    .map(({ text }) => fill(context, text));
}

function showLimiting(context: ShowContext): EvaluatedLimiting[] {
  const { calculation, inputs } = context;
  const values = formulaValues(calculation, inputs);
  return calculation.limiting.flatMap(({ definition: limiting, when }) => {
    if (when && !decide(when, context.state, limiting.check)) return [];
    const check = calculation.checks.find((c) => c.name === limiting.check);
    if (!check || !inputs.has(limiting.given)) return [];
    const result = solveLimiting(calculation, limiting, check, values);
    if (!result) return [];
    const symbol = calculation.symbols.get(limiting.given)?.tex ?? limiting.given;
    const { given, seek, meaning } = limiting;
    return [{ given, symbol, check: limiting.check, seek, meaning, result }];
  });
}

function usualRangeCautions({ calculation, inputs }: ShowContext): EvaluatedCaution[] {
  return [...inputs].flatMap(([name, { value }]) => {
    const given = calculation.givens.get(name)?.definition;
    if (!given) return [];
    if (given.type === 'rows') {
      if (value.type !== 'rows') return [];
      return Object.entries(given.columns).flatMap(([column, inner]) => {
        const items = value.rows.flatMap((row) => (typeof row[column] === 'object' ? [row[column]] : []));
        return usualRangeCaution(`${name}.${column}`, inner, items);
      });
    }
    const items = value.type === 'quantity' ? [value.quantity] : value.type === 'list' ? value.items : [];
    return usualRangeCaution(name, given, items);
  });
}

function usualRangeCaution(
  name: string,
  given: Exclude<GivenDefinition, RowsGiven> | ColumnDefinition,
  items: readonly Quantity[],
): EvaluatedCaution[] {
  if (!('usual' in given) || !given.usual) return [];
  const { usual } = given;
  if (!items.some((item) => outside(item.si, usual))) return [];
  return [
    {
      id: `usual-range-${name}`,
      text: `The ${given.meaning} lies outside its usual range (${wordRange(usual)}): ${usual.because}.`,
    },
  ];
}

function stateCautions(context: ShowContext, view: FigureView): EvaluatedCaution[] {
  return context.calculation.cautions
    .filter(({ when, id }) => !when || decide(when, context.state, id))
    .map(({ id, definition }) => ({
      id,
      text: fill(context, definition.text, view),
      ...(definition.basis ? { basis: definition.basis } : {}),
    }));
}

/** Puts displayed values into `{name}`. */
function fill(context: ShowContext, text: string, view?: FigureView): string {
  return text.replace(
    /\{([a-z0-9_.]+)\}/g,
    (_, name: string) => view?.shown(name) ?? shownText(context, name),
  );
}

function shownText(context: ShowContext, name: string): string {
  const words = context.state.words.get(name);
  if (words !== undefined) return words;
  const value = context.state.values.get(name);
  if (typeof value === 'string') return value;
  return typeof value === 'number' ? displayIn(context, name, value).print : '-';
}

function figureView(
  context: ShowContext,
  steps: readonly EvaluatedStep[],
  checks: readonly EvaluatedCheck[],
): FigureView {
  return {
    ...solverValues(context.state.values),
    shown: (name) => {
      const result = steps.find((s) => s.name === name)?.result;
      return result?.type === 'number' ? result.displayed.print : shownText(context, name);
    },
    verdict: (name) => checks.find((check) => check.name === name)?.verdict,
  };
}
