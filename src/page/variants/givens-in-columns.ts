import type { WordedGiven } from '../../engine/definition/evaluated.ts';
import { viewGiven } from '../given-view.ts';
import type { BlockContext } from '../note-context.ts';
import { shortOption, wordOption } from '../word-option.ts';
import { type Column, tellTogether } from './column.ts';

type GivenView = ReturnType<typeof viewGiven>;

export interface GivensInColumns {
  /** Names of givens that are not the same in all columns, in the order in which they come. */
  readonly differing: readonly string[];
  /** Givens with the same value and source in all. */
  readonly common: readonly GivenView[];
}

/** Tells the givens that all have in common from those that differ in value, range or source. */
export function compareGivens(context: BlockContext, columns: readonly Column[]): GivensInColumns {
  const names = [...new Set(columns.flatMap(({ block }) => block.evaluated.givens.map(({ name }) => name)))];
  const views = names.map((name) => ({ name, all: columns.map((column) => viewOf(context, column, name)) }));
  const isSame = (all: readonly (GivenView | undefined)[]) =>
    all.every((one) => JSON.stringify(one) === JSON.stringify(all[0]));
  return {
    differing: views.filter(({ all }) => !isSame(all)).map(({ name }) => name),
    common: views.filter(({ all }) => isSame(all)).map(({ all }) => all[0]!),
  };
}

/** A row for each given that differs: its value in each column, and whence the values come. */
export function viewDiffering(context: BlockContext, columns: readonly Column[], names: readonly string[]) {
  return names.flatMap((name) => {
    const views = columns.map((column) => viewOf(context, column, name));
    const any = views.find((view) => view !== undefined);
    if (!any || any.table) return [];
    return [
      {
        name,
        symbol: any.symbol,
        meaning: any.meaning,
        values: views.map((view, i) => ({
          lines: shortLines(columns[i]!, name, view),
          isWord: view?.isWord ?? false,
          // What a column changes against the first is what a reader looks for.
          isChanged: i > 0 && JSON.stringify(view?.lines) !== JSON.stringify(views[0]?.lines),
        })),
        options: tellTogether(columns, (column) => optionOf(column, name)).map(({ content }) => content),
        sources: tellTogether(columns, (column) => {
          const view = viewOf(context, column, name);
          return view ? [view.source] : [];
        }),
      },
    ];
  });
}

/** Tables that are not the same in all columns: each as it is given, with the calculations in which it is. */
export function viewDifferingTables(
  context: BlockContext,
  columns: readonly Column[],
  names: readonly string[],
) {
  return names.flatMap((name) =>
    tellTogether(columns, (column) => {
      const view = viewOf(context, column, name);
      return view?.table ? [view] : [];
    }).map(({ numbers, content }) => ({
      ...content,
      meaning: `${content.meaning}, calculation ${numbers}`,
    })),
  );
}

/** A choice in few words: what it means stands below. */
function shortLines({ block }: Column, name: string, view: GivenView | undefined): readonly string[] {
  const chosen = block.evaluated.givens.find((one) => one.name === name)?.chosen;
  return chosen ? [shortOption(chosen)] : (view?.lines ?? []);
}

function optionOf({ block }: Column, name: string): readonly { short: string; words: string }[] {
  const chosen = block.evaluated.givens.find((one) => one.name === name)?.chosen;
  if (!chosen) return [];
  const [short, words] = [shortOption(chosen), wordOption(chosen)];
  return short === words ? [] : [{ short, words }];
}

function viewOf(context: BlockContext, { block }: Column, name: string): GivenView | undefined {
  const given: WordedGiven | undefined = block.evaluated.givens.find((one) => one.name === name);
  return given && viewGiven(context, given);
}
