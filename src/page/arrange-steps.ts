import type { WordedStep } from '../engine/definition/evaluated.ts';
import { isSameMath } from '../formula/math-piece.ts';

/** Steps that stand together on the page. */
export type StepGroup =
  /** Formulas with their numbers, a few lines each. */
  | { readonly kind: 'formulas'; readonly steps: readonly WordedStep[] }
  /** Values from tables, and numbers that are set: a line each. */
  | { readonly kind: 'values'; readonly steps: readonly WordedStep[] }
  /** What one numerical method gives. */
  | { readonly kind: 'results'; readonly steps: readonly WordedStep[] }
  /** Steps over the rows of one table. */
  | { readonly kind: 'rows'; readonly table: string; readonly steps: readonly WordedStep[] };

export interface ArrangedSteps {
  /** Steps whose formulas, tables and methods an earlier calculation has set out. */
  readonly repeated: readonly WordedStep[];
  readonly groups: readonly StepGroup[];
}

/** Fewer than this are no shorter as a table than as lines. */
const FEWEST = 3;

/**
 * The steps of a calculation as they are set out: those that an earlier calculation of the same method has set out already apart,
 * the others in groups. What a step needs stands before it.
 */
export function arrangeSteps(
  steps: readonly WordedStep[],
  earlier: readonly WordedStep[] = [],
): ArrangedSteps {
  // A step that only hands on what was given says nothing that the table of givens does not.
  const told = steps.filter(({ asGiven }) => !asGiven);
  const before = new Map(earlier.filter(({ asGiven }) => !asGiven).map((step) => [step.name, step]));
  const alike = told.filter((step) => isSameFormula(step, before.get(step.name)));
  const repeated = alike.length < FEWEST ? [] : alike;
  return { repeated, groups: groupSteps(told.filter((step) => !repeated.includes(step))) };
}

/** Whether the same formula, table or method on the same basis, with the same remarks, stands at both. */
export function isSameMethod(step: WordedStep, before: WordedStep | undefined): boolean {
  return before !== undefined && isSameBasis(step, before) && hasSameWords(step, before);
}

/** The same, but for a formula that rests on another clause there: it stands once, and each clause with its calculation. */
function isSameFormula(step: WordedStep, before: WordedStep | undefined): boolean {
  if (before === undefined || !hasSameWords(step, before)) return false;
  return isSameBasis(step, before) || (step.formula !== undefined && !isNumberAlone(step));
}

export function isSameBasis(step: WordedStep, before: WordedStep): boolean {
  return JSON.stringify(step.basis) === JSON.stringify(before.basis);
}

function hasSameWords(step: WordedStep, before: WordedStep): boolean {
  if (before.kind !== step.kind || before.over !== step.over) return false;
  const said = ({ note, numericUnits, meaning, kind, origin }: WordedStep) =>
    JSON.stringify([note, numericUnits, meaning, kind === 'table' ? '' : origin]);
  if (said(step) !== said(before)) return false;
  if (step.formula === undefined || before.formula === undefined) return step.formula === before.formula;
  return isSameMath(step.formula, before.formula);
}

function groupSteps(steps: readonly WordedStep[]): readonly StepGroup[] {
  const groups: { kind: StepGroup['kind']; key: string; steps: WordedStep[] }[] = [];
  for (const step of gatherTables(steps)) {
    const { kind, key } = classify(step);
    const last = groups.at(-1);
    if (last?.kind === kind && last.key === key) last.steps.push(step);
    else groups.push({ kind, key, steps: [step] });
  }
  return groups.map(({ kind, key, steps: own }) =>
    kind === 'rows' ? { kind, table: key, steps: own } : { kind, steps: own },
  );
}

function classify(step: WordedStep): { kind: StepGroup['kind']; key: string } {
  if (step.over !== undefined) return { kind: 'rows', key: step.over };
  if (step.resultOf !== undefined && step.kind === 'solver') return { kind: 'results', key: step.resultOf };
  const isValue = step.kind === 'table' || (isNumberAlone(step) && step.result.type !== 'words');
  return { kind: isValue ? 'values' : 'formulas', key: '' };
}

/** A formula that is only a number or a quantity says what the result says. */
export function isNumberAlone({ formula }: Pick<WordedStep, 'formula'>): boolean {
  return formula?.type === 'number' || formula?.type === 'quantity';
}

/** The steps over each table brought together, as far as what they need allows. */
function gatherTables(steps: readonly WordedStep[]): readonly WordedStep[] {
  const tables = new Set(steps.flatMap(({ over }) => over ?? []));
  return [...tables].reduce(gatherTable, steps);
}

function gatherTable(steps: readonly WordedStep[], table: string): readonly WordedStep[] {
  const first = steps.findIndex(({ over }) => over === table);
  if (first < 0) return steps;
  const needed = namesNeeded(steps, table);
  const before: WordedStep[] = [];
  const together: WordedStep[] = [];
  const after: WordedStep[] = [];
  const isOf = (list: readonly WordedStep[]) => (name: string) => list.some((one) => one.name === name);
  for (const step of steps.slice(first)) {
    const waits = step.uses.some(isOf(after));
    if (step.over === table && !waits) together.push(step);
    else if (!waits && needed.has(step.name) && !step.uses.some(isOf(together))) before.push(step);
    else after.push(step);
  }
  return [...steps.slice(0, first), ...before, ...together, ...gatherTable(after, table)];
}

/** What the steps over a table need, directly and through other steps. */
function namesNeeded(steps: readonly WordedStep[], table: string): ReadonlySet<string> {
  const byName = new Map(steps.map((step) => [step.name, step]));
  const needed = new Set<string>();
  const ask = (names: readonly string[]): void => {
    for (const name of names) {
      if (needed.has(name)) continue;
      needed.add(name);
      ask(byName.get(name)?.uses ?? []);
    }
  };
  ask(steps.filter(({ over }) => over === table).flatMap(({ uses }) => uses));
  return needed;
}
