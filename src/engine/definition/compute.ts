import { found, type Problem, problem, type Reading } from '../../diagnostics/problem.ts';
import { evaluateCondition, evaluateFormula } from '../../formula/evaluate-formula.ts';
import type { Formula, FormulaValue, RowPoint } from '../../formula/formula.ts';
import { isWithinNumbers, toSi } from '../../quantity/quantity.ts';
import { sayBasis } from './basis.ts';
import type { CompiledCalculation, CompiledStep, CompiledVariant, StepWork } from './compiled.ts';
import type {
  Refusal,
  SolutionOutcome,
  SolverResult,
  SolverValues,
  StepValues,
  TableStep,
} from './definition.ts';
import { ownMeaning } from './own-text.ts';
import { oneByOne, type Spread } from './piece-task.ts';
import { isNumbers, isWords, pointsOver } from './rows.ts';
import { unitOf } from './show-step.ts';
import { wordOperands } from './word-operands.ts';

/** The numbers of one evaluation: every given and step by name, in SI; words where a step has no number. */
export interface Computation {
  /** What was given, before any step. */
  readonly givens: ReadonlyMap<string, FormulaValue>;
  readonly values: Map<string, FormulaValue>;
  readonly words: Map<string, string>;
  /** The variant that each formula step used. */
  readonly variants: Map<string, CompiledVariant>;
  /** What each solution that was needed came to. */
  readonly solutions: Map<string, SolutionOutcome>;
  readonly faults: ComputeFault[];
}

/** A fault with the given that it concerns, where it concerns one, or the step in which it arose. */
export interface ComputeFault {
  readonly given?: string;
  /** Of a list or table given: the item or row, from zero, and the column. */
  readonly item?: number;
  readonly column?: string;
  readonly step?: string;
  readonly problem: Problem;
}

/** Evaluates all steps over the values of the givens. Pure and quick: ranges and limiting values call it often. */
export function compute(
  calculation: CompiledCalculation,
  givens: ReadonlyMap<string, FormulaValue>,
  spread: Spread = oneByOne,
): Computation {
  const state: Computation = {
    givens,
    values: new Map(givens),
    words: new Map(),
    variants: new Map(),
    solutions: new Map(),
    faults: [],
  };
  for (const step of calculation.steps) computeStep(calculation, step, state, spread);
  return state;
}

function computeStep(
  calculation: CompiledCalculation,
  step: CompiledStep,
  state: Computation,
  spread: Spread,
): void {
  // What is given is not worked out.
  if (calculation.givens.has(step.name) && state.values.has(step.name)) return;
  const asked = step.when ? undecidedGiven(calculation, step.when, state, 'choice') : undefined;
  if (asked !== undefined) {
    if (!step.definition.optional) reportMissing(calculation, step, [asked], state);
    return;
  }
  if (step.when && !decide(step.when, state, step.name)) return;
  const said = wordsOf(step, state);
  if (said !== undefined) {
    state.words.set(step.name, said);
    return;
  }
  const undecided =
    step.work.kind === 'formula' ? undecidedVariant(calculation, step.work.variants, state) : undefined;
  if (undecided !== undefined) {
    if (!step.definition.optional) reportMissing(calculation, step, [undecided], state);
    return;
  }
  const variant = step.work.kind === 'formula' ? chooseVariant(step, step.work.variants, state) : undefined;
  if (step.work.kind === 'formula' && !variant) {
    // That no formula was chosen may be for want of a number in whose place there are words.
    const behind = undecidedName(step.work.variants, state);
    if (behind !== undefined && state.words.has(behind)) state.words.set(step.name, state.words.get(behind)!);
    return;
  }
  // A step that builds on one without a number has the same words in place of its own.
  const spoken = needed(step, variant).find((name) => state.words.has(name));
  if (spoken !== undefined) {
    state.words.set(step.name, state.words.get(spoken)!);
    return;
  }
  const missing = needed(step, variant).filter((name) => !isPresent(calculation, name, state));
  if (missing.length > 0) {
    if (!step.definition.optional) reportMissing(calculation, step, missing, state);
    return;
  }
  if (variant) state.variants.set(step.name, variant);
  const result = variant
    ? evaluateVariant(calculation, step, variant, state)
    : supply(calculation, step, state, spread);
  if (result === undefined) return;
  const lost = faultOfNumbers(calculation, step, variant, result, state);
  if (lost) {
    state.faults.push(lost);
    return;
  }
  if (typeof result === 'object' && 'words' in result) state.words.set(step.name, result.words);
  else state.values.set(step.name, result);
}

/** Every name that a step may use: by whichever variant, condition or key. */
export function stepNeeds(step: CompiledStep): readonly string[] {
  const conditions = [
    step.when,
    ...(step.work.kind === 'formula' ? step.work.variants.map((v) => v.when) : []),
  ];
  const works =
    step.work.kind === 'formula'
      ? step.work.variants.flatMap((v) => v.formula.names)
      : needed(step, undefined);
  return [...works, ...conditions.flatMap((condition) => condition?.names ?? [])];
}

/** What a step needs to be present before it is tried. Names inside `given` conditions may be absent. */
function needed(step: CompiledStep, variant: CompiledVariant | undefined): readonly string[] {
  if (variant) return variant.formula.names;
  if (step.work.kind === 'solver') return step.work.step.needs;
  return step.work.kind === 'table' ? step.work.step.table.by : [];
}

function isPresent(calculation: CompiledCalculation, name: string, state: Computation): boolean {
  if (state.values.has(name)) return true;
  // Rows stand in the values by their columns.
  const given = calculation.givens.get(name);
  return (
    given?.definition.type === 'rows' && [...state.values.keys()].some((key) => key.startsWith(`${name}.`))
  );
}

function reportMissing(
  calculation: CompiledCalculation,
  step: CompiledStep,
  missing: readonly string[],
  state: Computation,
): void {
  for (const name of missing) {
    const isStep = calculation.steps.some((other) => other.name === name);
    const given = isStep
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
      throw new Error(
        `${calculation.definition.name}: step '${step.name}' needs '${name}', which was left out: mark it optional or give it the same condition`,
      );
    }
  }
}

function wordsOf(step: CompiledStep, state: Computation): string | undefined {
  return step.words.find(({ when }) => allPresent(when, state) && decide(when, state, step.name))?.says;
}

function allPresent(condition: Formula, state: Computation): boolean {
  return condition.names.every((name) => state.values.has(name));
}

/** The absent given that keeps the variant from being chosen, where one does. */
export function undecidedVariant(
  calculation: CompiledCalculation,
  variants: readonly CompiledVariant[],
  state: Computation,
): string | undefined {
  for (const { when } of variants) {
    if (!when) return undefined;
    const absent = undecidedGiven(calculation, when, state);
    if (absent !== undefined) return absent;
    const reading = evaluateCondition(when, state.values);
    if (reading.ok && reading.value) return undefined;
  }
  return undefined;
}

/** The absent name for want of which the first of some conditions cannot be decided. */
function undecidedName(variants: readonly CompiledVariant[], state: Computation): string | undefined {
  for (const { when } of variants) {
    const reading = when && evaluateCondition(when, state.values);
    if (reading && !reading.ok && reading.problem.code === 'absent-value') return reading.problem.data.name;
  }
  return undefined;
}

/** The absent given for want of which a condition cannot be decided; `given x` is always decided. */
function undecidedGiven(
  calculation: CompiledCalculation,
  condition: Formula,
  state: Computation,
  type?: 'choice',
): string | undefined {
  const reading = evaluateCondition(condition, state.values);
  if (reading.ok || reading.problem.code !== 'absent-value') return undefined;
  const { name } = reading.problem.data;
  // One of several alternatives may be absent: its conditions then do not hold.
  if (calculation.alternatives.some(({ oneOf }) => oneOf.includes(name))) return undefined;
  const given = calculation.givens.get(name);
  return given && (type === undefined || given.definition.type === type) ? name : undefined;
}

function chooseVariant(
  step: CompiledStep,
  variants: readonly CompiledVariant[],
  state: Computation,
): CompiledVariant | undefined {
  return variants.find((variant) => !variant.when || decide(variant.when, state, step.name));
}

function evaluateVariant(
  calculation: CompiledCalculation,
  step: CompiledStep,
  { formula, numeric }: CompiledVariant,
  state: Computation,
): FormulaValue | undefined {
  return overRows(calculation, step, state, (rows) => {
    const reading = evaluateFormula(formula, state.values, { numeric, rows });
    if (!reading.ok) return reading;
    return found(numeric ? toSi(reading.value, step.unit) : reading.value);
  });
}

/** The value of a step, or those of a step over rows, one by one; undefined where one has none, which is then a fault. */
function overRows(
  calculation: CompiledCalculation,
  step: CompiledStep,
  state: Computation,
  valueAt: (rows: RowPoint) => Reading<number>,
): FormulaValue | undefined {
  const values: number[] = [];
  for (const rows of pointsOver(calculation, step.over, state.values)) {
    const reading = valueAt(rows);
    if (!reading.ok) {
      const [table, item] = [...rows][0] ?? [];
      const place = table === undefined || item === undefined ? {} : { given: table, item };
      state.faults.push({ ...place, step: step.name, problem: reading.problem });
      return undefined;
    }
    values.push(reading.value);
  }
  return step.over === undefined ? values[0] : values;
}

function supply(
  calculation: CompiledCalculation,
  step: CompiledStep,
  state: Computation,
  spread: Spread,
): FormulaValue | { readonly words: string } | undefined {
  if (step.work.kind === 'table') {
    const { values, step: table } = step.work;
    return overRows(calculation, step, state, (rows) => {
      const key = keyOf(table, state.values, rows);
      const value = values.get(key);
      if (value !== undefined) return found(value);
      return {
        ok: false,
        problem: problem('not-in-table', { key, step: ownMeaning(calculation, step.name) }),
      };
    });
  }
  if (step.work.kind !== 'solver') return undefined;
  const result = solve(calculation, step, step.work, state, spread);
  if (result === undefined) return undefined;
  if (typeof result === 'object' && 'choice' in result) return result.choice;
  if (typeof result === 'object' && 'words' in result) {
    if (step.work.step.says?.includes(result.words)) return result;
    throw new Error(`step '${step.name}' says '${result.words}', which its definition does not list`);
  }
  if (typeof result === 'object' && 'refused' in result) {
    state.faults.push(...faultsOfRefusal(step, result.refused));
    return undefined;
  }
  return result;
}

/** The key of the line of a table that holds: the options joined by ' / '. */
export function keyOf(
  { table }: TableStep,
  values: ReadonlyMap<string, FormulaValue>,
  rows: RowPoint,
): string {
  const [row] = rows.values();
  return table.by
    .map((name) => {
      const value = values.get(name);
      return String(typeof value === 'object' ? value[row ?? 0] : value);
    })
    .join(' / ');
}

/** Undefined where it is one value of a solution whose refusal was reported with another. */
function solve(
  calculation: CompiledCalculation,
  { name }: CompiledStep,
  work: StepWork & { kind: 'solver' },
  state: Computation,
  spread: Spread,
): SolverResult | undefined {
  const given = stepValues(state.values, (changes) => computeAgain(calculation, name, state, changes));
  if (!('solution' in work)) return work.step.solve(given, spread);
  const { solution } = work;
  const known = state.solutions.get(solution.name);
  const outcome = known ?? solution.solve(given, spread);
  state.solutions.set(solution.name, outcome);
  if ('refused' in outcome) return known ? undefined : outcome;
  const result = outcome.results[name];
  if (result === undefined) throw new Error(`the solution '${solution.name}' gives no '${name}'`);
  return result;
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
    values: wordOperands(names, state.values, (name) => unitOf(calculation, name)),
  });
  return { step: step.name, problem: fault };
}

function faultsOfRefusal(step: CompiledStep, refused: string | readonly Refusal[]): ComputeFault[] {
  if (typeof refused === 'string') {
    const basis = sayBasis(step.definition.basis);
    return [{ step: step.name, problem: problem('outside-validity', { text: refused, basis }) }];
  }
  return refused.map(({ text, hint, ...place }) => ({
    ...place,
    step: step.name,
    problem: problem('unfit-value', { text, hint }),
  }));
}

/** A condition that cannot be decided because something is absent does not hold. */
export function decide(condition: Formula, state: Computation, step: string, rows?: RowPoint): boolean {
  const reading = evaluateCondition(condition, state.values, { rows });
  if (reading.ok) return reading.value;
  if (reading.problem.code !== 'absent-value') state.faults.push({ step, problem: reading.problem });
  return false;
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

type Changes = Readonly<Record<string, number | string>>;

function stepValues(
  values: ReadonlyMap<string, FormulaValue>,
  again: (changes: Changes) => ReadonlyMap<string, FormulaValue>,
): StepValues {
  return {
    ...readableValues(values),
    again: (changes) => stepValues(again(changes), (more) => again({ ...changes, ...more })),
  };
}

/** Computed values by their types. */
export function readableValues(
  values: ReadonlyMap<string, FormulaValue>,
  lacks: (name: string) => never = (name) => {
    throw new Error(`'${name}' is not there as a solver step expects it`);
  },
): SolverValues {
  const typed = <T extends FormulaValue>(name: string, is: (value: FormulaValue) => value is T): T => {
    const value = values.get(name);
    return value === undefined || !is(value) ? lacks(name) : value;
  };
  return {
    number: (name) => typed(name, (v) => typeof v === 'number'),
    optionalNumber: (name) => {
      const value = values.get(name);
      return typeof value === 'number' ? value : undefined;
    },
    list: (name) => typed(name, isNumbers),
    choice: (name) => typed(name, (v) => typeof v === 'string'),
    choices: (name) => typed(name, isWords),
    has: (name) => values.has(name),
  };
}
