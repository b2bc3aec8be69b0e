import { viewJudgedBy, viewLimiting } from '../calculation-view.ts';
import type { BlockContext } from '../note-context.ts';
import { DASH } from '../word-values.ts';
import { type Column, tellTogether } from './column.ts';

/** The limiting values of several calculations of one kind, and by what they are governed. */
export function viewLimitingInColumns(context: BlockContext, columns: readonly Column[]) {
  const all = columns.map(({ block }) =>
    block.evaluated.limiting.map((limiting) => ({
      key: `${limiting.given} ${limiting.seek} ${limiting.checks.join(' ')}`,
      view: viewLimiting(limiting, block.evaluated.checks, context.words),
    })),
  );
  const keys = [...new Set(all.flatMap((own) => own.map(({ key }) => key)))];
  return keys.map((key) => {
    const views = all.map((own) => own.find((one) => one.key === key)?.view);
    const any = views.find((view) => view !== undefined)!;
    return {
      symbol: any.symbol,
      meaning: any.meaning,
      values: views.map((view) => view?.value ?? DASH),
      governing: tellTogether(columns, (column) => {
        const view = views[columns.indexOf(column)];
        const isTold = view && (view.governing !== DASH || view.unjudged !== '');
        return isTold ? [{ governing: view.governing, unjudged: view.unjudged }] : [];
      }),
    };
  });
}

/** Of each calculation with limiting values the ones outside the columns whose checks may narrow them. */
export function viewJudgedByInColumns(context: BlockContext, columns: readonly Column[]) {
  const own = new Set(columns.map(({ block }) => block.id));
  return tellTogether(columns, ({ block: { id, evaluated } }) => {
    const others = evaluated.limiting.length === 0 ? [] : viewJudgedBy(context, id, own);
    return others.length === 0 ? [] : [{ others }];
  });
}
