import type { Place } from '../diagnostics/place.ts';
import { viewAssumptions, viewHolds, viewOwnReferences } from './annex-views.ts';
import { viewCalculation } from './calculation-view.ts';
import { drawFigure } from './draw-figure.ts';
import { calculationId, referenceId } from './ids.ts';
import type { NoteContext } from './note-context.ts';
import type { BlockNode, Section } from './render-prose.ts';
import { fillTemplate } from './templates.ts';

/** A calculation at the place of its block, one level below the section in which it stands. */
export function renderCalculation(
  context: NoteContext,
  node: BlockNode,
  section: Section,
  nextFigure: () => number,
) {
  const index = context.note.blocks.findIndex(({ id }) => id === node.block);
  const block = context.note.blocks[index];
  if (!block) throw new Error(`the block '${node.block}' of the text was not evaluated`);
  const level = Math.min(section.level + 1, 6);
  const { figure } = block.evaluated;
  const number = `Calculation ${index + 1}`;
  const html = fillTemplate('calculation', {
    ...viewCalculation(context, block),
    level,
    number,
    title: block.title,
    figure: figure ? drawFigure(figure.svg, figure.caption, nextFigure()) : '',
  });
  return {
    html,
    heading: { id: calculationId(block.id), level, number, text: block.title, typeset: false },
  };
}

/** A register stands once: where the author has put its block. Of several blocks each shows its own entries. */
export function renderRegister(context: NoteContext, { kind, piece }: BlockNode): string {
  const { source } = context.note;
  const within = ({ place }: { readonly place: Place }) => place.piece === piece;
  if (kind === 'assumptions') {
    return fillTemplate('assumptions', { rows: viewAssumptions(source.assumptions.filter(within)) });
  }
  if (kind === 'holds') return fillTemplate('holds', { rows: viewHolds(source.holds.filter(within)) });
  const own = source.references.filter(within).map(({ id }) => referenceId(id));
  const rows = viewOwnReferences(context).filter(({ id }) => own.includes(id));
  return fillTemplate('own-references', { rows });
}
