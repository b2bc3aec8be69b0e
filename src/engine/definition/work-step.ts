import { found, problem, type Reading } from '../../diagnostics/problem.ts';
import { evaluateFormula } from '../../formula/evaluate-formula.ts';
import type { FormulaValue, RowPoint } from '../../formula/formula.ts';
import type { Ask, Memory } from '../../memory/memory.ts';
import { toSi } from '../../quantity/quantity.ts';
import type { Text } from '../../words/sentence.ts';
import { sayBasis } from './basis.ts';
import type { CompiledCalculation, CompiledStep, CompiledVariant, StepWork } from './compiled.ts';
import type { Computation, ComputeFault } from './computation.ts';
import type {
  Refusal,
  Solution,
  SolutionOutcome,
  SolverResult,
  SolverValues,
  StepValues,
  TableStep,
} from './definition.ts';
import { ownMeaning } from './own-text.ts';
import type { Spread } from './piece-task.ts';
import { ownRefusal } from './refusal.ts';
import { isNumbers, isWords, pointsOver } from './rows.ts';

/** What steps are worked with; none of it changes a value. */
export interface WorkTools {
  /** Works samples of many pieces. */
  readonly spread: Spread;
  /** Holds the solutions that were worked before; without it each is worked. */
  readonly memory?: Memory;
}

/** Other values of some givens. */
export type Changes = Readonly<Record<string, number | string>>;

/** The values of the steps before one, worked anew. */
export type Again = (changes: Changes) => ReadonlyMap<string, FormulaValue>;

/** Evaluates a formula step by one of its variants; undefined where it has no value, which is then a fault of the state. */
export function evaluateVariant(
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

const NO_ROWS: RowPoint = new Map();

/** The value of a step, or those of a step over rows, one by one; undefined where one has none, which is then a fault. */
function overRows(
  calculation: CompiledCalculation,
  step: CompiledStep,
  state: Computation,
  valueAt: (rows: RowPoint) => Reading<number>,
): FormulaValue | undefined {
  if (step.over === undefined) {
    const reading = valueAt(NO_ROWS);
    if (reading.ok) return reading.value;
    state.faults.push({ step: step.name, problem: reading.problem });
    return undefined;
  }
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
  return values;
}

/**
 * The value of a step from a table or a numerical method, or the words in its place; undefined where it has none, which is then a
 * fault of the state.
 *
 * @param again works the steps before this one anew, with other values of some givens
 */
export function supply(
  calculation: CompiledCalculation,
  step: CompiledStep,
  state: Computation,
  tools: WorkTools,
  again: Again,
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
  const result = solve(calculation, step, step.work, state, tools, again);
  if (result === undefined) return undefined;
  if (typeof result === 'object' && 'choice' in result) return result.choice;
  if (typeof result === 'object' && 'words' in result) {
    if (step.work.step.says?.includes(result.words)) return result;
    throw new Error(`step '${step.name}' says '${result.words}', which its definition does not list`);
  }
  if (typeof result === 'object' && 'refused' in result) {
    state.faults.push(...faultsOfRefusal(calculation, step, result.refused));
    return undefined;
  }
  return result;
}

/** The key of the line of a table that holds: the options joined by ' / '. */
function keyOf({ table }: TableStep, values: ReadonlyMap<string, FormulaValue>, rows: RowPoint): string {
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
  tools: WorkTools,
  again: Again,
): SolverResult | undefined {
  if (!('solution' in work)) return work.step.solve(stepValues(readFrom(state.values, again)), tools.spread);
  const { solution } = work;
  const known = state.solutions.get(solution.name);
  const outcome = known ?? workSolution(calculation, solution, readFrom(state.values, again), tools);
  state.solutions.set(solution.name, outcome);
  if ('refused' in outcome) return known ? undefined : outcome;
  const result = outcome.results[name];
  if (result === undefined) throw new Error(`the solution '${solution.name}' gives no '${name}'`);
  return result;
}

/** A solution may be a simulation that takes long: it is worked anew only where a value that it reads is another. */
function workSolution(
  { definition }: CompiledCalculation,
  { name, solve: work }: { readonly name: string; readonly solve: Solution['solve'] },
  read: ReadValue,
  { spread, memory }: WorkTools,
): SolutionOutcome {
  if (!memory) return work(stepValues(read), spread);
  const ask: Ask<FormulaValue | undefined> = (question) => {
    const [value, changes] = question.split(ANEW, 2) as [string, string?];
    return read(value, changes === undefined ? {} : JSON.parse(changes));
  };
  return memory.recallReading('solution', `${definition.name} ${name}`, ask, (remembering) =>
    work(
      stepValues((value, changes) => {
        const isAnew = Object.keys(changes).length > 0;
        return remembering(isAnew ? `${value}${ANEW}${JSON.stringify(changes)}` : value);
      }),
      spread,
    ),
  );
}

/** Stands between a name and the changes at which its value is asked; no name has a blank. */
const ANEW = ' anew ';

function faultsOfRefusal(
  calculation: CompiledCalculation,
  step: CompiledStep,
  refused: Text | readonly Refusal[],
): ComputeFault[] {
  const own = (text: Text) => ownRefusal(calculation, text);
  if (isOne(refused)) {
    const basis = sayBasis(step.definition.basis);
    return [{ step: step.name, problem: problem('outside-validity', { text: own(refused), basis }) }];
  }
  return refused.map(({ text, hint, ...place }) => ({
    ...place,
    step: step.name,
    problem: problem('unfit-value', { text: own(text), hint: hint === undefined ? undefined : own(hint) }),
  }));
}

function isOne(refused: Text | readonly Refusal[]): refused is Text {
  return !Array.isArray(refused);
}

/** Reads a value by its name: as it is, or as it would be with other values of some givens. */
type ReadValue = (name: string, changes: Changes) => FormulaValue | undefined;

/** What is worked anew is worked once for each set of changes. */
function readFrom(values: ReadonlyMap<string, FormulaValue>, again: Again): ReadValue {
  const worked = new Map<string, ReadonlyMap<string, FormulaValue>>();
  return (name, changes) => {
    if (Object.keys(changes).length === 0) return values.get(name);
    const key = JSON.stringify(changes);
    const there = worked.get(key) ?? again(changes);
    worked.set(key, there);
    return there.get(name);
  };
}

function stepValues(read: ReadValue, changes: Changes = {}): StepValues {
  return {
    ...readableValues((name) => read(name, changes)),
    again: (more) => stepValues(read, { ...changes, ...more }),
  };
}

/** Computed values by their types. */
export function readableValues(
  read: (name: string) => FormulaValue | undefined,
  lacks: (name: string) => never = (name) => {
    throw new Error(`'${name}' is not there as a solver step expects it`);
  },
): SolverValues {
  const typed = <T extends FormulaValue>(name: string, is: (value: FormulaValue) => value is T): T => {
    const value = read(name);
    return value === undefined || !is(value) ? lacks(name) : value;
  };
  return {
    number: (name) => typed(name, (v) => typeof v === 'number'),
    optionalNumber: (name) => {
      const value = read(name);
      return typeof value === 'number' ? value : undefined;
    },
    list: (name) => typed(name, isNumbers),
    choice: (name) => typed(name, (v) => typeof v === 'string'),
    choices: (name) => typed(name, isWords),
    has: (name) => read(name) !== undefined,
  };
}
