import type { WordedCheck, WordedStep } from '../../engine/definition/evaluated.ts';
import type { WordedSchedule } from '../../evaluation/evaluated-note.ts';
import { rowOf, sign } from '../../formula/math-piece.ts';
import { fitMath, NARROW_EM, TEXT_EM } from '../math/fit-math.ts';
import { setTex } from '../math/set-math.ts';
import { displayTex } from '../math/typeset-math.ts';
import type { BlockContext } from '../note-context.ts';
import { basisHtml } from '../reference-list.ts';
import { viewWords } from '../step-view.ts';

/**
 * The method of a schedule, once for all its rows: formulas with symbols and no numbers, then what is checked. Where rows are worked by
 * different formulas, a step stands once with each of them.
 */
export function viewMethod(context: BlockContext, { method, ways, rows }: WordedSchedule) {
  const all = [method, ...ways];
  // A step that only hands on what was given says nothing that the table of givens does not.
  const steps = eachOnce(
    all.flatMap((one) => one.steps.filter(({ asGiven }) => !asGiven)),
    (step) => viewMethodStep(context, step),
    // Words in place of a number say nothing of how it is found.
  ).filter(({ view }) => view.lines.length > 0 || view.origin !== '' || view.note !== '');
  const checks = eachOnce(
    all.flatMap((one) => one.checks),
    (check) => viewRequirement(context, check),
  );
  const names = checkNames({ method, rows });
  return {
    steps: steps.map(({ view }) => view),
    hasVariants: steps.some(({ name }, i) => steps[i - 1]?.name === name),
    requirements: checks.map(({ name, view }) => ({ letter: letterAt(names.indexOf(name)), ...view })),
  };
}

/** Whether a method has set out before all that another has: its formulas, and its checks under the same letters. */
export function setsOut(one: ReturnType<typeof viewMethod>, other: ReturnType<typeof viewMethod>): boolean {
  const steps = new Set(one.steps.map((step) => JSON.stringify(step)));
  return (
    other.steps.length > 0 &&
    other.steps.every((step) => steps.has(JSON.stringify(step))) &&
    JSON.stringify(one.requirements) === JSON.stringify(other.requirements)
  );
}

/** The checks that rows make, in the order of the method. */
export function checkNames({ method, rows }: Pick<WordedSchedule, 'method' | 'rows'>): readonly string[] {
  const made = rows.flatMap(({ checks }) => checks.map(({ name }) => name));
  return [...new Set([...method.checks.map(({ name }) => name), ...made])];
}

/** The views of all, each once; those of one name beside each other, in the order in which the names come. */
function eachOnce<T extends { readonly name: string }, V>(all: readonly T[], view: (one: T) => V) {
  const byName = new Map<string, Map<string, V>>();
  for (const one of all) {
    const views = byName.get(one.name) ?? new Map<string, V>();
    byName.set(one.name, views);
    const seen = view(one);
    views.set(JSON.stringify(seen), seen);
  }
  return [...byName].flatMap(([name, views]) => [...views.values()].map((one) => ({ name, view: one })));
}

/** By which lines of the table name a check. */
export function letterAt(index: number): string {
  const rest = index < LETTERS.length ? '' : letterAt(Math.floor(index / LETTERS.length) - 1);
  return `${rest}${LETTERS[index % LETTERS.length]}`;
}

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';

function viewMethodStep(context: BlockContext, step: WordedStep) {
  const { formula } = step;
  const fitted = formula && fitMath(rowOf([sign('leading equals'), formula]), NARROW_EM);
  return {
    symbol: setTex(displayTex(step.symbol)).html,
    ...viewWords(context, step),
    // Without a value it must be said where one comes from.
    origin: step.origin ?? '',
    isWide: false,
    lines: fitted ? [{ html: fitted.html, size: fitted.size, result: '' }] : [],
  };
}

function viewRequirement(context: BlockContext, check: WordedCheck) {
  const requirement = fitMath(rowOf([check.valueFormula, sign(check.relation), check.limitFormula]), TEXT_EM);
  return {
    criterion: check.criterion,
    isRecommendation: check.force === 'recommendation',
    basis: basisHtml(check.basis, context),
    requirement: requirement.html,
    size: requirement.size,
  };
}
