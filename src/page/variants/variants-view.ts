import { isRequiredCase } from '../../evaluation/tally-verdicts.ts';
import { wordCase } from '../case-titles.ts';
import { viewChecks } from '../check-view.ts';
import { calculationId } from '../ids.ts';
import type { BlockContext } from '../note-context.ts';
import { viewCautionsTogether } from './cautions-in-columns.ts';
import { viewChecksInColumns } from './checks-in-columns.ts';
import { type Column, headOf, isFew, splitColumns, tellTogether } from './column.ts';
import { compareGivens, viewDiffering, viewDifferingTables } from './givens-in-columns.ts';
import { viewJudgedByInColumns, viewLimitingInColumns } from './limiting-in-columns.ts';
import { viewStepsInColumns } from './steps-in-columns.ts';

/** A calculation of a family, and the number of the one on which it is based. */
export interface Member extends Column {
  readonly base: string;
}

/** A base and the calculations that stand on it, set out as one: formulas once, and a column for each of them. */
export function viewVariants(context: BlockContext, members: readonly Member[]) {
  const givens = compareGivens(context, members);
  const [base] = members;
  return {
    purpose: base?.block.evaluated.purpose ?? '',
    members: members.map(({ number, block, base: onBase }) => ({
      id: calculationId(block.id),
      block: block.id,
      number,
      title: block.title,
      ofCase: wordCase(block.case),
      onBase,
    })),
    tables: viewDifferingTables(context, members, givens.differing),
    common: givens.common.filter(({ table }) => !table),
    commonTables: givens.common.filter(({ table }) => table),
    parts: splitColumns(members).map((columns, i) => ({
      heads: columns.map(headOf),
      isFew: isFew(columns),
      isFirst: i === 0,
      givens: viewDiffering(context, columns, givens.differing),
      ...stepsOf(context, columns, i === 0),
      checks: viewChecksInColumns(context, columns, { inFull: true, repeatsFirst: i > 0 }),
      limiting: viewLimitingInColumns(context, columns),
      judgedBy: viewJudgedByInColumns(context, columns),
      ranged: columns.some(({ block }) => block.evaluated.checks.some(({ overRange }) => overRange)),
    })),
    examined: tellTogether(members, ({ block }) => {
      const { examined } = viewChecks(context, block);
      return examined === '' ? [] : [examined];
    }),
    ...viewCautionsTogether(context, members),
  };
}

function stepsOf(context: BlockContext, columns: readonly Column[], showsFormulas: boolean) {
  const steps = viewStepsInColumns(context, columns, showsFormulas);
  return { steps, hasFormulas: steps.some(({ isBeside }) => isBeside) };
}

/** The calculations whose figures are shown: the base, and what the note stands for or proposes, where that looks different. */
export function figuresOf(members: readonly Member[]): readonly Member[] {
  const [base, ...variants] = members;
  const drawn = variants.filter(
    ({ block }) => block.evaluated.figure && block.evaluated.figure.svg !== base?.block.evaluated.figure?.svg,
  );
  const shown = drawn.find(({ block }) => isRequiredCase(block.case)) ?? drawn[0];
  return [base, shown].filter((one) => one?.block.evaluated.figure !== undefined) as Member[];
}

/** Any calculations of one method side by side; their formulas, and what to do, stand where each is set out. */
export function viewComparison(context: BlockContext, columns: readonly Column[]) {
  const givens = compareGivens(context, columns);
  return {
    members: columns.map(({ number, block }) => ({
      target: calculationId(block.id),
      number,
      title: block.title,
      ofCase: wordCase(block.case),
    })),
    tables: viewDifferingTables(context, columns, givens.differing),
    hasCommon: givens.common.length > 0,
    parts: splitColumns(columns).map((own) => ({
      heads: own.map(headOf),
      isFew: isFew(own),
      isFirst: false,
      givens: viewDiffering(context, own, givens.differing),
      ...stepsOf(context, own, false),
      checks: viewChecksInColumns(context, own, { inFull: false, repeatsFirst: false }),
    })),
  };
}
