import { type Problem, problem } from '../../diagnostics/problem.ts';
import { evaluateCondition } from '../../formula/evaluate-formula.ts';
import type { Formula, RowPoint } from '../../formula/formula.ts';
import { typesetFormula } from '../../formula/typeset-formula.ts';
import { displaySi, USUAL_DIGITS } from '../../quantity/display.ts';
import { type Quantity, quantityFromSi } from '../../quantity/quantity.ts';
import { PURE_UNIT } from '../../quantity/unit.ts';
import { NotDrawable } from '../figures/not-drawable.ts';
import { withDefaults } from './apply-defaults.ts';
import { type Basis, wordBasis } from './basis.ts';
import type { CompiledCalculation, CompiledValidity } from './compiled.ts';
import { type Computation, type ComputeFault, compute, decide, readableValues } from './compute.ts';
import type { ColumnDefinition, GivenDefinition, RowsGiven } from './definition.ts';
import { drawOrLeaveOut } from './draw-or-leave-out.ts';
import type {
  EvaluatedCalculation,
  EvaluatedCaution,
  EvaluatedCheck,
  EvaluatedLimiting,
  EvaluatedStep,
} from './evaluated.ts';
import type { FigureView } from './figure-view.ts';
import { fillRows, fillSentence } from './fill-sentence.ts';
import { formulaValues, type Inputs } from './inputs.ts';
import { displayJudged, isMet, type Judgement, judgeCheck, wordMet } from './judge-check.ts';
import { judgeOverRange, type RangeJudgement, rangedGivens } from './judge-over-range.ts';
import { judgeAlternatives } from './judge-written.ts';
import { oneByOne, type Spread } from './piece-task.ts';
import { type Point, PointJudge } from './point-judge.ts';
import { outside, wordUsual } from './read-given.ts';
import { judgeRows, pointsOver } from './rows.ts';
import { showGivens } from './show-givens.ts';
import { displayIn, type ShowContext, showStep } from './show-step.ts';
import { type LimitingValue, solveLimiting } from './solve-limiting.ts';
import type { ResultValue, Value } from './value.ts';

/** What came of running one calculation: everything a note prints, or what is wrong with its givens. */
export type RunOutcome =
  | {
      readonly ok: true;
      readonly evaluated: EvaluatedCalculation;
      readonly state: Computation;
    }
  | { readonly ok: false; readonly faults: readonly ComputeFault[] };

/** Runs one calculation over givens that were read and judged one by one. Pure. */
export function runCalculation(
  calculation: CompiledCalculation,
  written: Inputs,
  spread: Spread = oneByOne,
): RunOutcome {
  const writtenFaults = [...judgeAlternatives(calculation, written), ...judgeRows(calculation, written)];
  if (writtenFaults.length > 0) return { ok: false, faults: writtenFaults };
  const inputs = withDefaults(calculation, written);
  const values = formulaValues(calculation, inputs);
  const state = compute(calculation, values, spread);
  const judgements = calculation.checks.flatMap((check) => judgeCheck(calculation, check, state) ?? []);
  const validity = judgeValidity(calculation, state);
  const faults = [...state.faults, ...validity.faults];
  if (faults.length > 0) return { ok: false, faults };

  const judge = new PointJudge(calculation, values, spread, state);
  const overRanges = new Map(
    judgements.map(({ check }) => [check.name, judgeOverRange(calculation, check, inputs, judge)]),
  );
  const context: ShowContext = { calculation, inputs, state, digits: digitsForChecks(judgements) };
  const steps = calculation.steps.flatMap((step) => showStep(context, step) ?? []);
  const checks = judgements.map((judgement) =>
    showCheck(context, judgement, steps, overRanges.get(judgement.check.name)),
  );
  const limiting = showLimiting(context, judgements, judge, [...overRanges.values()]);
  const view = figureView(context, steps, checks);
  const drawn = drawOrLeaveOut(calculation.definition.figure, view);
  const cautions = [
    ...usualRangeCautions(context),
    ...validity.cautions,
    ...stateCautions(context, view),
    ...drawn.cautions,
  ];
  // A condition of a caution or remedy that could not be decided is a fault like any other.
  if (state.faults.length > 0) return { ok: false, faults: state.faults };
  return {
    ok: true,
    state,
    evaluated: {
      calculation: calculation.definition.name,
      title: calculation.definition.title,
      purpose: calculation.definition.purpose,
      givens: showGivens(context),
      steps,
      checks,
      limiting,
      cautions: [...cautions, ...rangeCautions(context, judge, [...overRanges.values()], cautions)],
      ...(drawn.figure ? { figure: drawn.figure } : {}),
    },
  };
}

function judgeValidity(calculation: CompiledCalculation, state: Computation) {
  const faults: ComputeFault[] = [];
  const cautions: EvaluatedCaution[] = [];
  for (const limit of calculation.validity) {
    const broken = pointsOver(calculation, limit.over, state.values).flatMap((rows): RowPoint[] => {
      const reading = evaluateCondition(limit.condition, state.values, { rows });
      if (!reading.ok && reading.problem.code !== 'absent-value') faults.push({ problem: reading.problem });
      return reading.ok && !reading.value ? [rows] : [];
    });
    if (broken.length === 0) continue;
    const basis = limit.basis ?? calculation.steps[0]!.definition.basis;
    if (limit.otherwise === 'error') {
      faults.push(...broken.map((rows) => faultOfLimit(calculation, limit, rows, basis)));
    } else {
      const text = fillRows(limit.text, broken);
      cautions.push({ id: `validity-${limit.id}`, text: `Outside the usual validity: ${text}`, basis });
    }
  }
  return { faults, cautions };
}

function faultOfLimit(
  calculation: CompiledCalculation,
  limit: CompiledValidity,
  rows: RowPoint,
  basis: Basis,
): ComputeFault {
  const named = limit.given ?? limit.condition.names.find((name) => calculation.givens.has(name));
  const [given, column] = named?.split('.') ?? [];
  const [item] = rows.values();
  const text = fillRows(limit.text, [rows]);
  const place = {
    ...(given === undefined ? {} : { given }),
    ...(column === undefined ? {} : { column }),
    ...(item === undefined ? {} : { item }),
  };
  const fault: Problem =
    limit.instead === undefined
      ? problem('outside-validity', { text, basis: wordBasis(basis) })
      : problem('unfit-value', { text, hint: limit.instead });
  return { ...place, problem: fault };
}

/** Digits for names that a check compares directly, so that their own line does not read as if the verdict were wrong. */
function digitsForChecks(judgements: readonly Judgement[]): Map<string, number> {
  const digits = new Map<string, number>();
  for (const { check, value, limit, candidate } of judgements) {
    if (value === undefined || limit === undefined) continue;
    const needed = displayJudged(value, limit, check.unit).digits;
    if (needed <= USUAL_DIGITS) continue;
    for (const formula of [candidate.value, candidate.limit]) {
      if (formula.root.type === 'name')
        digits.set(formula.root.name, Math.max(needed, digits.get(formula.root.name) ?? 0));
    }
  }
  return digits;
}

function showCheck(
  context: ShowContext,
  stated: Judgement,
  steps: readonly EvaluatedStep[],
  overRange: RangeJudgement | undefined,
): EvaluatedCheck {
  // The least favourable point of the ranges decides, and its values are shown.
  const judgement = overRange?.worst ?? stated;
  const { check, candidate, value, limit, words } = judgement;
  const verdict = wordMet(judgement.force, overRange ? overRange.met : judgement.met);
  const { unit } = check;
  // Numbers of things read as such: 6 of 9, not 6.00 of 9.00.
  const countsThings = unit === PURE_UNIT && Number.isInteger(value) && Number.isInteger(limit);
  const ownDigits = countsThings ? 1 : Math.max(USUAL_DIGITS, ...digitsOfOperands(judgement, steps));
  const both =
    value !== undefined && limit !== undefined
      ? displayJudged(value, limit, unit, ownDigits, directionsOf(context, judgement))
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
    valueTex: typesetFormula(candidate.value, context.calculation.symbols),
    limitTex: typesetFormula(candidate.limit, context.calculation.symbols),
    value: words === undefined ? result(value) : { type: 'words', words, unit },
    limit: result(limit, both?.limit),
    atLimit: judgement.atLimit,
    missing,
    basis: judgement.basis,
    remedies: isMet(verdict) === false ? remediesOf(context, judgement) : [],
    ...(candidate.meaning === undefined ? {} : { judgedOn: candidate.meaning }),
    ...(overRange
      ? { overRange: { holds: overRange.holds, sentence: overRange.sentence, at: overRange.at } }
      : {}),
  };
}

/** What is rounded to its safe side, here or where it was taken over from, reads the same in its check. */
function directionsOf({ calculation, inputs }: ShowContext, { candidate }: Judgement) {
  const directionOf = ({ root }: Formula) =>
    root.type === 'name'
      ? (calculation.steps.find((step) => step.name === root.name)?.definition.rounded ??
        inputs.get(root.name)?.rounded)
      : undefined;
  const [value, limit] = [directionOf(candidate.value), directionOf(candidate.limit)];
  return { ...(value ? { value } : {}), ...(limit ? { limit } : {}) };
}

function digitsOfOperands({ candidate }: Judgement, steps: readonly EvaluatedStep[]): number[] {
  return [candidate.value, candidate.limit].flatMap(({ root }) => {
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

function showLimiting(
  context: ShowContext,
  judgements: readonly Judgement[],
  judge: PointJudge,
  overRanges: readonly (RangeJudgement | undefined)[],
): EvaluatedLimiting[] {
  const { calculation, inputs } = context;
  return calculation.limiting.flatMap(({ definition: limiting, when }) => {
    const { given, seek, meaning } = limiting;
    if (when && !decide(when, context.state, given)) return [];
    const nominal = context.state.values.get(given);
    if (!inputs.has(given) || typeof nominal !== 'number') return [];
    const asked = judgements.filter(({ check }) => limiting.checks?.includes(check.name) ?? true);
    const judged = asked.filter(({ met }) => met !== undefined).map(({ check }) => check);
    // The ranges of other givens stay as they are: at their least favourable points it must hold too.
    const points = overRanges.flatMap((overRange): Point[] => {
      const others = [...(overRange?.worstPoint ?? [])].filter(([name]) => name !== given);
      return others.length > 0 ? [new Map(others)] : [];
    });
    const others = rangedGivens(inputs).filter(({ name }) => name !== given);
    const found = solveLimiting(calculation, limiting, judged, judge, nominal, others, points);
    if (!found) return [];
    const { result, checks } = found;
    return [
      {
        given,
        symbol: calculation.symbols.get(given)?.tex ?? given,
        seek,
        meaning,
        result,
        checks,
        governing: wordGoverning(calculation, found),
        unjudged: asked.filter(({ met }) => met === undefined).map(({ check }) => check.name),
      },
    ];
  });
}

function wordGoverning(
  calculation: CompiledCalculation,
  { governing, outside }: LimitingValue,
): EvaluatedLimiting['governing'] {
  const check = calculation.checks.find(({ name }) => name === governing);
  if (check) return { check: check.name, words: check.definition.criterion };
  const limit = calculation.validity.find(({ id }) => id === outside);
  const words = limit ? `limit of the method: ${limit.text}` : outside;
  return words === undefined ? undefined : { check: undefined, words };
}

/** What must be said at the least favourable points of the ranges and need not be said at the stated values. */
function rangeCautions(
  context: ShowContext,
  judge: PointJudge,
  overRanges: readonly (RangeJudgement | undefined)[],
  said: readonly EvaluatedCaution[],
): EvaluatedCaution[] {
  const { calculation, inputs } = context;
  const axes = rangedGivens(inputs);
  const points: Point[] = [
    ...overRanges.flatMap((overRange) => (overRange ? [overRange.worstPoint] : [])),
    ...axes.flatMap(({ name, low, high }) => [new Map([[name, low]]), new Map([[name, high]])]),
  ];
  const found = new Map<string, EvaluatedCaution>();
  for (const point of points) {
    const state = judge.compute(point);
    if (!judge.isUsable(state)) continue;
    const there: ShowContext = {
      ...context,
      state,
      inputs: new Map(
        [...inputs].map(([name, input]) => [
          name,
          { ...input, value: valueAt(input.value, point.get(name)) },
        ]),
      ),
    };
    const all = [
      ...usualRangeCautions(there),
      ...judgeValidity(calculation, state).cautions,
      ...stateCautions(there),
    ];
    for (const caution of all) {
      if (said.some(({ id }) => id === caution.id) || found.has(caution.id)) continue;
      found.set(caution.id, { ...caution, text: `Within the stated ranges: ${caution.text}` });
    }
  }
  return [...found.values()];
}

function valueAt(value: Value, si: number | undefined): Value {
  if (si === undefined || value.type !== 'quantity') return value;
  return { type: 'quantity', quantity: quantityFromSi(si, value.quantity.unit) };
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
  if (!items.some((item) => !(usual.orNone && item.si === 0) && outside(item.si, usual))) return [];
  return [
    {
      id: `usual-range-${name}`,
      text: `The ${given.meaning} lies outside its usual range (${wordUsual(usual)}): ${usual.because}.`,
    },
  ];
}

function stateCautions(context: ShowContext, view?: FigureView): EvaluatedCaution[] {
  const { calculation, state } = context;
  return calculation.cautions.flatMap(({ when, id, definition }) => {
    const points = pointsOver(calculation, definition.over, state.values).filter(
      (rows) => !when || decide(when, state, id, rows),
    );
    if (points.length === 0) return [];
    const text = fill(context, fillRows(definition.text, points), view);
    return [{ id, text, ...(definition.basis ? { basis: definition.basis } : {}) }];
  });
}

/** Puts displayed values into `{name}`. */
function fill(context: ShowContext, text: string, view?: FigureView): string {
  return fillSentence(text, (name) => view?.shown(name) ?? shownText(context, name));
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
    ...readableValues(context.state.values, (name) => {
      throw new NotDrawable(`a figure asks for '${name}', which is not there`);
    }),
    shown: (name) => {
      const result = steps.find((s) => s.name === name)?.result;
      return result?.type === 'number' ? result.displayed.print : shownText(context, name);
    },
    verdict: (name) => checks.find((check) => check.name === name)?.verdict,
    drawn: (solution) => {
      const outcome = context.state.solutions.get(solution);
      return outcome && 'results' in outcome ? outcome.drawn : undefined;
    },
  };
}
