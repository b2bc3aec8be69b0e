import { linkOf, viewCaution } from '../calculation-view.ts';
import type { BlockContext } from '../note-context.ts';
import { type Column, tellTogether } from './column.ts';

/**
 * The cautions of calculations that are set out as one. What calculations outside have too is told at the first of all, with the others
 * named, and again only where somebody accepted it.
 */
export function viewCautionsTogether(context: BlockContext, columns: readonly Column[]) {
  const own = new Set(columns.map(({ block }) => block.id));
  const firstOf = (text: string) => context.firstCautioned(text) ?? columns[0]!.block.id;
  const elsewhere = new Set<string>();
  const cautions = tellTogether(columns, ({ block: { evaluated, accepted } }) =>
    evaluated.cautions.flatMap((caution) => {
      const acceptance = accepted.find((one) => one.caution === caution.id);
      const first = firstOf(caution.text);
      if (!own.has(first) && !acceptance) {
        elsewhere.add(first);
        return [];
      }
      return [viewCaution(context, caution, acceptance)];
    }),
  );
  return {
    cautions: cautions.map(({ content, ...rest }) => ({
      ...rest,
      content,
      others: own.has(firstOf(content.text))
        ? context
            .cautionedBy(content.text)
            .filter((id) => !own.has(id))
            .map((id) => linkOf(context, id))
        : [],
    })),
    elsewhere: [...elsewhere].map((id) => linkOf(context, id)),
  };
}
