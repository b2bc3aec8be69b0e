import type { WordedStep } from '../engine/definition/evaluated.ts';
import { arrangeSteps, isSameBasis, type StepGroup } from './arrange-steps.ts';
import type { BlockContext, ShownBlock } from './note-context.ts';
import { basisHtml } from './reference-list.ts';
import { itemsHtml, meaningWithKeys, symbolHtml, valueHtml } from './step-values.ts';
import { resultView, SAME_BASIS, viewStep, viewWords } from './step-view.ts';
import { rowTitles, viewRowSteps } from './table-steps-view.ts';
import { textHtml } from './text-html.ts';
import { capitalise } from './word-values.ts';

/** The steps of a calculation, `earlier` the first of the same method in the note. */
export function viewSteps(context: BlockContext, block: ShownBlock, earlier: ShownBlock | undefined) {
  const { steps } = block.evaluated;
  const { repeated, groups } = arrangeSteps(steps, earlier?.evaluated.steps);
  return {
    repeated: earlier && repeated.length > 0 ? viewRepeated(context, block, repeated, earlier) : null,
    groups: groups.map((group) => viewGroup(context, block, group)),
  };
}

function viewGroup(context: BlockContext, block: ShownBlock, group: StepGroup) {
  const blank = { formulas: null, values: null, results: null, rows: null };
  switch (group.kind) {
    case 'formulas':
      return {
        ...blank,
        formulas: group.steps.map((step, i) => viewStep(context, step, group.steps[i - 1])),
      };
    case 'values':
      return { ...blank, values: group.steps.map((step) => viewValue(context, step)) };
    case 'results':
      return { ...blank, results: viewResults(context, group.steps) };
    case 'rows':
      return { ...blank, rows: viewRowSteps(context, block, group) };
  }
}

/** A value from a table on one line: symbol, value, what it is and by what it was looked up, clause. */
function viewValue(context: BlockContext, step: WordedStep) {
  return {
    symbol: symbolHtml(step),
    value: valueHtml(step),
    ...viewWords(context, step),
    meaning: capitalise(meaningWithKeys(step)),
  };
}

/** What one numerical method gives: the method and its basis once, and how a single value is found where it differs. */
function viewResults(context: BlockContext, steps: readonly WordedStep[]) {
  const [first] = steps;
  const bases = steps.map(({ basis }) => basisHtml(basis, context));
  const isOneBasis = bases.every((basis) => basis === bases[0]);
  const rows = steps.map((step, i) => ({
    name: step.name,
    symbol: symbolHtml(step),
    meaning: capitalise(step.meaning),
    value: valueHtml(step),
    how: i > 0 && step.origin !== first?.origin ? (step.origin ?? '') : '',
    note: step.note ?? '',
    basis: isOneBasis ? '' : bases[i]!,
  }));
  return {
    method: capitalise(first?.origin ?? ''),
    basis: isOneBasis ? bases[0]! : '',
    saysHow: rows.some(({ how, note }) => how !== '' || note !== ''),
    rows,
  };
}

interface ValueRow {
  readonly name: string;
  readonly symbol: string;
  readonly meaning: string;
  /** The clause, where it is another one than there. */
  readonly basis: string;
  readonly before: readonly string[];
  readonly here: readonly string[];
}

/**
 * Steps whose formulas stand in an earlier calculation: the values there and here side by side, those that are the same named
 * alone. Each line can be recomputed from the values in the tables.
 */
function viewRepeated(
  context: BlockContext,
  block: ShownBlock,
  steps: readonly WordedStep[],
  earlier: ShownBlock,
) {
  const before = new Map(earlier.evaluated.steps.map((step) => [step.name, step]));
  const isSame = (step: WordedStep) =>
    JSON.stringify(step.result) === JSON.stringify(before.get(step.name)!.result) &&
    isSameBasis(step, before.get(step.name)!);
  const same = steps.filter(isSame);
  const changed = same.length < FEWEST_SAME ? steps : steps.filter((step) => !isSame(step));
  return {
    // A row step has as many values as its table has rows, beside each other here.
    rows: sayBasisOnce(changed.map((step) => viewRepeatedRow(context, step, before.get(step.name)!, block))),
    same: steps
      .filter((step) => !changed.includes(step))
      .map((step) => ({
        name: symbolHtml(step) || textHtml(step.meaning),
        result: resultView(step.result).html,
      })),
  };
}

const FEWEST_SAME = 2;

function sayBasisOnce(rows: readonly ValueRow[]): readonly ValueRow[] {
  return rows.map((row, i) =>
    row.basis !== '' && row.basis === rows[i - 1]?.basis ? { ...row, basis: SAME_BASIS } : row,
  );
}

function viewRepeatedRow(
  context: BlockContext,
  step: WordedStep,
  before: WordedStep,
  block: ShownBlock,
): ValueRow {
  const titles = step.over === undefined ? [] : rowTitles(block, step.over);
  return {
    name: step.name,
    symbol: symbolHtml(step),
    meaning: capitalise(meaningWithKeys(step)),
    basis: isSameBasis(step, before) ? '' : basisHtml(step.basis, context),
    before: itemsHtml(before, titles),
    here: itemsHtml(step, titles),
  };
}
