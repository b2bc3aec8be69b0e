import type { WordedCheck } from '../../engine/definition/evaluated.ts';
import { viewChecks } from '../check-view.ts';
import type { BlockContext } from '../note-context.ts';
import { textHtml } from '../text-html.ts';
import { DASH, printJudged } from '../word-values.ts';
import { type Column, tellTogether } from './column.ts';
import { mergeNames } from './steps-in-columns.ts';

export interface ChecksShown {
  /** With what to do where a check is not met, and with the places to which links lead. */
  readonly inFull: boolean;
  /** Whether the first column stands before these already, with all that is to be said of it. */
  readonly repeatsFirst: boolean;
}

/**
 * The checks of several calculations of one kind: of each its value, limit, margin and verdict in every column, and below what is to be
 * said of some of them.
 */
export function viewChecksInColumns(
  context: BlockContext,
  columns: readonly Column[],
  { inFull, repeatsFirst }: ChecksShown,
) {
  const all = columns.map((column) => ({
    column,
    worded: new Map(column.block.evaluated.checks.map((check) => [check.name, check])),
    viewed: viewByName(context, column.block),
  }));
  const told = inFull ? columns.slice(repeatsFirst ? 1 : 0) : [];
  const names = mergeNames(all.map(({ worded }) => [...worded.keys()]));
  return names.map((name) => {
    const viewIn = (column: Column) => all.find((one) => one.column === column)!.viewed.get(name);
    const tell = <Content>(of: readonly Column[], contentOf: (check: CheckView) => readonly Content[]) =>
      tellTogether(of, (column) => {
        const own = viewIn(column);
        return own ? contentOf(own) : [];
      });
    const limits = new Set(all.map(({ worded }) => viewCell(worded.get(name)).limit));
    const cells = all.map(({ column, worded }) => ({
      id: told.includes(column) ? (viewIn(column)?.id ?? '') : '',
      ...viewCell(worded.get(name)),
    }));
    return {
      // Stands once where it is the same in all columns.
      limit: limits.size === 1 ? [...limits][0]! : '',
      heads: tell(columns, (check) => [headOf(check, inFull)]),
      cells,
      hasMargin: cells.some(({ margin }) => margin !== ''),
      notes: tell(told, notesOf),
      remedies: tell(told, ({ remedies }) => (remedies.length > 0 ? [{ remedies }] : [])),
    };
  });
}

/** What is required; of one name it may be another formula where other options are chosen. */
function headOf({ criterion, isRecommendation, basis, requirement, size }: CheckView, inFull: boolean) {
  return { criterion, isRecommendation, basis: inFull ? basis : '', requirement, size };
}

type CheckView = ReturnType<typeof viewChecks>['checks'][number];

function viewByName(context: BlockContext, block: Column['block']): ReadonlyMap<string, CheckView> {
  const { checks } = viewChecks(context, block);
  return new Map(block.evaluated.checks.map(({ name }, i) => [name, checks[i]!]));
}

function viewCell(check: WordedCheck | undefined) {
  if (!check) return { value: DASH, limit: DASH, margin: '', verdict: DASH, noticed: false, atLimit: false };
  return {
    ...printJudged(check),
    ...(check.margin === undefined || check.atLimit ? { margin: '' } : {}),
    verdict: check.verdictWords,
    noticed: ['does-not-comply', 'not-met', 'cannot-be-judged'].includes(check.verdict),
    atLimit: check.atLimit,
  };
}

/** What is said of a check beside its verdict, as HTML. */
function notesOf({ missing, judgedOn, overRange, examined, remediesOf }: CheckView): readonly string[] {
  return [
    ...(missing.length > 0 ? [`not given: ${missing.map(({ html }) => html).join(', ')}.`] : []),
    ...(judgedOn === '' ? [] : [textHtml(`judged on ${judgedOn}.`)]),
    ...(overRange === '' ? [] : [textHtml(examined === '' ? overRange : `${overRange} ${examined}`)]),
    ...(remediesOf ? [textHtml(`what to do: as for the check “${remediesOf.criterion}”.`)] : []),
  ];
}
