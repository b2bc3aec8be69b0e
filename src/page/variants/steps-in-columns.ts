import type { WordedStep } from '../../engine/definition/evaluated.ts';
import { rowOf, sign } from '../../formula/math-piece.ts';
import { isNumberAlone, isSameMethod } from '../arrange-steps.ts';
import { fitMath } from '../math/fit-math.ts';
import { texHtml } from '../math/set-math.ts';
import type { BlockContext } from '../note-context.ts';
import { itemsHtml } from '../step-values.ts';
import { viewWords } from '../step-view.ts';
import { rowTitles } from '../table-steps-view.ts';
import { DASH } from '../word-values.ts';
import { type Column, FEW_COLUMNS } from './column.ts';

/** A step by one method, with the columns that take it. */
interface MethodRow {
  readonly step: WordedStep;
  /** For each column the step, where it is taken by this method there. */
  readonly steps: (WordedStep | undefined)[];
}

/**
 * The steps of several calculations of one kind: a row for each step and, where they take it by different formulas, one for each of
 * these, with the value in every column.
 *
 * @param showsFormulas false where the formulas stand elsewhere
 */
export function viewStepsInColumns(
  context: BlockContext,
  columns: readonly Column[],
  showsFormulas: boolean,
) {
  const order = mergeNames(columns.map(({ block }) => told(block.evaluated.steps)));
  const rows = order.flatMap((name) => {
    const found = columns.map(({ block }) => block.evaluated.steps.find((step) => step.name === name));
    return byMethod(found).map((row) => ({ row, found }));
  });
  return rows.map(({ row, found }, i) =>
    viewRow(context, columns, { ...row, before: rows[i - 1]?.row.step }, found, showsFormulas),
  );
}

/** A step that only hands on what was given says nothing that the givens do not. */
function told(steps: readonly WordedStep[]): readonly string[] {
  return steps.filter(({ asGiven }) => !asGiven).map(({ name }) => name);
}

/** All names once; what one list has more stands behind what it stands behind there. */
export function mergeNames(lists: readonly (readonly string[])[]): readonly string[] {
  const merged: string[] = [];
  for (const list of lists) {
    let at = 0;
    for (const name of list) {
      const known = merged.indexOf(name);
      if (known < 0) merged.splice(at, 0, name);
      at = (known < 0 ? at : known) + 1;
    }
  }
  return merged;
}

function byMethod(found: readonly (WordedStep | undefined)[]): readonly MethodRow[] {
  const rows: MethodRow[] = [];
  for (const [i, step] of found.entries()) {
    if (!step || step.asGiven) continue;
    const row = rows.find((one) => isSameMethod(step, one.step));
    if (row) row.steps[i] = step;
    else rows.push({ step, steps: found.map((_, k) => (k === i ? step : undefined)) });
  }
  return rows;
}

function viewRow(
  context: BlockContext,
  columns: readonly Column[],
  { step, steps, before }: MethodRow & { readonly before: WordedStep | undefined },
  found: readonly (WordedStep | undefined)[],
  showsFormulas: boolean,
) {
  const formula = showsFormulas ? formulaOf(step, columns.length) : undefined;
  return {
    symbol: texHtml(step.symbol),
    ...viewWords(context, step, before),
    ...(showsFormulas ? {} : { basis: '', origin: '', units: '', note: '' }),
    formula: formula?.html ?? '',
    size: formula?.size ?? '',
    values: columns.map((column, i) => ({ items: valuesIn(column, steps[i], found[i]) })),
    isBeside: formula !== undefined && formula.em <= besideEm(columns.length),
  };
}

/** Nothing where the step is taken by another formula, which stands in a row of its own; a dash where there is no such step. */
function valuesIn(
  { block }: Column,
  step: WordedStep | undefined,
  found: WordedStep | undefined,
): readonly string[] {
  const shown = step ?? (found?.asGiven ? found : undefined);
  if (shown) return itemsHtml(shown, shown.over === undefined ? [] : rowTitles(block, shown.over));
  return found ? [] : [DASH];
}

/** The width of the page in em of a formula in a table, and of what stands beside the formula: symbol, each column. */
const PAGE_EM = 47;
const SYMBOL_EM = 4;
const COLUMN_EM = 7;
const COLUMN_OF_FEW_EM = 8.2;

/** What columns leave of the page. */
function leftEm(columns: number): number {
  return PAGE_EM - SYMBOL_EM - columns * (columns <= FEW_COLUMNS ? COLUMN_OF_FEW_EM : COLUMN_EM);
}

/** The width of a formula that stands beside its words: not more than half of what the columns leave. */
function besideEm(columns: number): number {
  return columns > MOST_BESIDE ? 0 : leftEm(columns) / 2;
}

/** With more columns the words have too little room. */
const MOST_BESIDE = 3;

function formulaOf(step: WordedStep, columns: number) {
  if (!step.formula || isNumberAlone(step)) return undefined;
  return fitMath(rowOf([sign('leading equals'), step.formula]), leftEm(columns));
}
