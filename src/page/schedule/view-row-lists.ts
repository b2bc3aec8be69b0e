import type { Words } from '../../words/words.ts';
import { wordCase } from '../case-titles.ts';
import { printMargin } from '../word-values.ts';
import type { RowChoice } from './choose-rows.ts';
import type { RowSummary } from './summarise-rows.ts';
import { wordOutcome } from './word-counts.ts';

export interface RowListView {
  /** 'Further rows that comply, as found (212)' */
  readonly verdict: string;
  readonly case: string;
  readonly count: number;
  readonly hasMargins: boolean;
  /** Width of a column in millimetres: as many stand beside each other as there is room for. */
  readonly width: number;
  readonly parts: readonly {
    readonly group: string;
    /** So short that it stands on one page, with the name of its group. */
    readonly isShort: boolean;
    readonly items: readonly { readonly id: string; readonly margin: string }[];
  }[];
}

/** Width of a sign of the type of the lists; a margin and the gaps beside it. */
const SIGN_MM = 1.5;
const MARGIN_MM = 16;
const WIDEST_MM = 160;
/** Width of the text of a page, and the gap between columns as the style has it. */
const PAGE_MM = 170;
const GAP_MM = 6;
/** Lists of at most so many lines are not parted. */
const SHORT_LINES = 10;

/**
 * The rows that are named without a line in the table: lists by verdict and case, each by group, with the margin of each row.
 *
 * @param order of the groups
 */
export function viewRowLists(
  { listed }: Pick<RowChoice, 'listed'>,
  order: readonly string[],
  words: Words,
): readonly RowListView[] {
  const lists = new Map<string, RowSummary[]>();
  for (const one of listed) {
    const key = `${one.outcome} ${one.row.case ?? ''}`;
    const list = lists.get(key);
    if (list) list.push(one);
    else lists.set(key, [one]);
  }
  return [...lists.values()].map((rows) => {
    const width = Math.min(
      WIDEST_MM,
      MARGIN_MM + SIGN_MM * rows.reduce((most, { row }) => Math.max(most, [...row.id].length), 4),
    );
    const columns = Math.floor((PAGE_MM + GAP_MM) / (width + GAP_MM));
    return {
      verdict: wordOutcome(rows[0]!.outcome, rows, words),
      case: wordCase(rows[0]!.row.case),
      count: rows.length,
      hasMargins: rows.some(({ margin }) => margin !== undefined),
      width,
      parts: byGroup(rows, order, columns * SHORT_LINES),
    };
  });
}

function byGroup(rows: readonly RowSummary[], order: readonly string[], short: number): RowListView['parts'] {
  const groups = new Map<string, RowSummary[]>(order.map((group) => [group, []]));
  for (const one of rows) {
    const group = one.row.group ?? '';
    const own = groups.get(group);
    if (own) own.push(one);
    else groups.set(group, [one]);
  }
  const filled = [...groups].filter(([, own]) => own.length > 0);
  return filled.map(([group, own]) => ({
    group,
    isShort: own.length <= short,
    items: own.map(({ row, governing }) => ({ id: row.id, margin: printMargin(governing) })),
  }));
}
