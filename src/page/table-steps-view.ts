import type { WordedStep } from '../engine/definition/evaluated.ts';
import { rowOf, sign } from '../formula/math-piece.ts';
import { fitMath, ROW_FORMULA_EM } from './math/fit-math.ts';
import { texHtml } from './math/set-math.ts';
import type { BlockContext, ShownBlock } from './note-context.ts';
import { basisHtml } from './reference-list.ts';
import { wholeHtml } from './step-values.ts';
import { capitalise, printResultOrDash } from './word-values.ts';

/** As many rows of a table stand beside each other; more stand below each other, some in a part. */
const ACROSS = 4;

/**
 * The steps over the rows of one table: each with its formula or the table from which it comes, and its value for each row. A
 * value can be recomputed from the formula, the table that was given and the values here.
 */
export function viewRowSteps(
  context: BlockContext,
  block: ShownBlock,
  { table, steps }: { readonly table: string; readonly steps: readonly WordedStep[] },
) {
  const titles = rowTitles(block, table);
  // No part has but one row where the others have more.
  const across = Math.ceil(titles.length / Math.ceil(titles.length / ACROSS));
  const parts = chunk(titles, across);
  return {
    title: capitalise(titleOf(block, table)),
    parts: parts.map((titlesHere, part) => ({
      isFirst: part === 0,
      titles: titlesHere,
      rows: steps.map((step) => ({
        ...(part === 0 ? viewRowStep(context, step) : { ...BLANK, symbol: texHtml(step.symbol) }),
        name: step.name,
        meaning: capitalise(step.meaning),
        values: titlesHere.map((_, i) => rowValueHtml(step, part * across + i)),
      })),
    })),
  };
}

const BLANK = { formula: '', size: '', by: '', basis: '', note: '' };

function viewRowStep(context: BlockContext, step: WordedStep) {
  const symbol = { type: 'symbol', tex: step.symbol } as const;
  const set = step.formula
    ? fitMath(rowOf([symbol, sign('='), step.formula]), ROW_FORMULA_EM)
    : { html: '', size: '' };
  return {
    symbol: texHtml(step.symbol),
    formula: set.html,
    size: set.size,
    by: (step.keys ?? []).map(({ meaning }) => meaning).join(', '),
    basis: basisHtml(step.basis, context),
    note: step.note ?? '',
  };
}

function rowValueHtml({ result }: WordedStep, row: number): string {
  if (result.type !== 'list') return row === 0 ? printResultOrDash(result) : '';
  const item = result.items[row];
  return item ? wholeHtml(item.displayed) : '';
}

/** The names of the rows, else their numbers; one row alone needs neither. */
export function rowTitles({ evaluated }: ShownBlock, table: string): readonly string[] {
  const given = evaluated.givens.find(({ name }) => name === table)?.table;
  const cells = given?.columns[0]?.cells ?? [];
  if (given?.rowsBy === 'name') return cells;
  return cells.length === 1 ? [''] : cells.map((_, i) => `${i + 1}`);
}

function titleOf({ evaluated }: ShownBlock, table: string): string {
  return evaluated.givens.find(({ name }) => name === table)?.meaning ?? table;
}

function chunk<T>(items: readonly T[], size: number): readonly T[][] {
  const parts: T[][] = [];
  for (let i = 0; i < items.length; i += size) parts.push(items.slice(i, i + size));
  return parts;
}
