import type { Place } from '../diagnostics/place.ts';
import { contentKey } from '../memory/content-key.ts';
import type { Memory } from '../memory/memory.ts';
import { viewAssumptions, viewHolds, viewOwnReferences } from './annex-views.ts';
import { viewCalculation } from './calculation-view.ts';
import { titleByCase } from './case-titles.ts';
import { drawFigure, isNarrow } from './draw-figure.ts';
import { calculationId, referenceId } from './ids.ts';
import { type BlockContext, type NoteContext, type ShownBlock, shownOf } from './note-context.ts';
import { recallWithin } from './recall-within.ts';
import type { BlockNode, Section } from './render-prose.ts';
import { fillTemplate } from './templates.ts';
import { renderVariantPlace, renderVariants } from './variants/render-variants.ts';

/** The numbers of the figures that stand in the note already, by drawing and caption. */
export type DrawnFigures = Map<string, string>;

/** A calculation at the place of its block, one level below the section in which it stands. */
export function renderCalculation(
  context: NoteContext,
  node: BlockNode,
  section: Section,
  nextFigure: () => string,
  drawn: DrawnFigures,
  memory: Memory,
) {
  const block = context.blockOf.get(node.block ?? '');
  if (!block) throw new Error(`the block '${node.block}' of the text was not evaluated`);
  const family = context.families.get(block.id);
  if (family) {
    const [base] = family;
    return base.id === block.id
      ? renderVariants(context, family, section, nextFigure, memory)
      : { html: renderVariantPlace(context, block, family) };
  }
  const level = Math.min(section.level + 1, 6);
  const number = `Calculation ${block.number}`;
  const place = { level, number, ...placeFigure(block.evaluated.figure, nextFigure, drawn) };
  return {
    html: recallPage(context, block, place, memory),
    headings: [{ id: calculationId(block.id), level, number, text: titleByCase(block), typeset: false }],
  };
}

/** The number of a figure; of one that stands in the note already, of that. */
function placeFigure(
  figure: ShownBlock['evaluated']['figure'],
  nextFigure: () => string,
  drawn: DrawnFigures,
): Pick<CalculationPlace, 'figure' | 'sameFigure'> {
  if (!figure) return { figure: undefined };
  const key = JSON.stringify([figure.svg, figure.caption]);
  const sameFigure = drawn.get(key);
  if (sameFigure !== undefined) return { figure: undefined, sameFigure };
  const number = nextFigure();
  drawn.set(key, number);
  return { figure: number };
}

/** Where a calculation stands in its note. */
export interface CalculationPlace {
  readonly level: number;
  readonly number: string;
  /** The number of its figure. */
  readonly figure: string | undefined;
  /** The number of the same figure of an earlier calculation. */
  readonly sameFigure?: string;
}

/** The HTML of a calculation, made anew only where its result, its place or what it shows of the rest of the note is another. */
export function recallPage(
  context: BlockContext,
  block: ShownBlock,
  place: CalculationPlace,
  memory: Memory,
): string {
  const shown = shownOf(block);
  const { evaluated, ...rest } = shown;
  const content = `${memory.nameOf(evaluated)}\n${contentKey([rest, place])}`;
  return recallWithin(context, memory, content, (asking) => pageOf(asking, shown, place));
}

function pageOf(
  context: BlockContext,
  block: ShownBlock,
  { level, number, figure, sameFigure }: CalculationPlace,
): string {
  const drawn = block.evaluated.figure;
  const view = viewCalculation(context, block);
  return fillTemplate('calculation', {
    ...view,
    level,
    number,
    title: block.title,
    isBeside: drawn !== undefined && isNarrow(drawn.svg) && view.checks.every(({ fitsHalf }) => fitsHalf),
    figure: drawn && figure !== undefined ? drawFigure(drawn.svg, drawn.caption, figure) : '',
    sameFigure,
  });
}

/** A register stands once: where the author has put its block. Of several blocks each shows its own entries. */
export function renderRegister(context: NoteContext, { kind, piece }: BlockNode): string {
  const { source } = context.note;
  const within = ({ place }: { readonly place: Place }) => place.piece === piece;
  if (kind === 'assumptions') {
    return fillTemplate('assumptions', {
      rows: viewAssumptions(source.assumptions.filter(within), source.frontMatter.locale),
    });
  }
  if (kind === 'holds')
    return fillTemplate('holds', { rows: viewHolds(source.holds.filter(within), source.frontMatter.locale) });
  const own = source.references.filter(within).map(({ id }) => referenceId(id));
  const rows = viewOwnReferences(context).filter(({ id }) => own.includes(id));
  return fillTemplate('own-references', { rows });
}
