import type { Nodes, NoteBlockNode, Root } from 'mdast';
import { contentKey } from '../../memory/content-key.ts';
import type { Memory } from '../../memory/memory.ts';
import { wordCaseBeside } from '../case-titles.ts';
import { drawFigure, isNarrow } from '../draw-figure.ts';
import { calculationId } from '../ids.ts';
import { type BlockContext, type NoteContext, type NumberedBlock, shownOf } from '../note-context.ts';
import { recallWithin } from '../recall-within.ts';
import type { BlockNode, Section } from '../render-prose.ts';
import { fillTemplate } from '../templates.ts';
import type { Family } from './families.ts';
import { figuresOf, type Member, viewComparison, viewVariants } from './variants-view.ts';

/** A base with its variants as one calculation, one level below the section in which the base stands. */
export function renderVariants(
  context: NoteContext,
  family: Family<NumberedBlock>,
  section: Section,
  nextFigure: () => string,
  memory: Memory,
) {
  const [base] = family;
  const members = family.map(
    (block): Member => ({
      number: block.number,
      block: shownOf(block),
      base: context.numberOf(block.source.basedOn?.name ?? '') ?? '',
    }),
  );
  const level = Math.min(section.level + 1, 6);
  const figures = figuresOf(members).map(({ number }) => ({ number, figure: nextFigure() }));
  const [first, last] = [members[0]!.number, members.at(-1)!.number];
  const number = `Calculations ${first} ${members.length === 2 ? 'and' : 'to'} ${last}`;
  const title = `${base.title}, and ${members.length === 2 ? 'its variant' : 'its variants'}`;
  const content = [
    ...members.map(({ block }) => memory.nameOf(block.evaluated)),
    contentKey(members.map(({ block: { evaluated: _, ...rest }, ...own }) => [rest, own])),
    contentKey([level, title, figures]),
  ].join('\n');
  const html = recallWithin(context, memory, `variants ${content}`, (asking) =>
    pageOf(asking, members, { level, number, title, figures }),
  );
  return { html, headings: [{ id: familyId(base.id), level, number, text: title, typeset: false }] };
}

/** Where the whole of it begins; the id of each calculation leads to its line in the list. */
function familyId(base: string): string {
  return `variants-${base}`;
}

interface FamilyPlace {
  readonly level: number;
  readonly number: string;
  readonly title: string;
  readonly figures: readonly { readonly number: string; readonly figure: string }[];
}

function pageOf(
  context: BlockContext,
  members: readonly Member[],
  { level, number, title, figures }: FamilyPlace,
): string {
  const drawings = figures.map(({ number: own, figure }) => ({
    own,
    figure,
    ...members.find((member) => member.number === own)!.block.evaluated.figure!,
  }));
  const svgs = drawings.map(({ svg }) => svg);
  return fillTemplate('variants', {
    ...viewVariants(context, members),
    id: familyId(members[0]!.block.id),
    block: members[0]!.block.id,
    level,
    number,
    title,
    figures: drawings
      .map(({ svg, caption, own, figure }) => drawFigure(svg, `${caption}: calculation ${own}`, figure))
      .join(''),
    isBeside: svgs.length > 0 && isNarrow(...svgs),
  });
}

/**
 * What stands at the place of a variant in the text: where it is set out. Nothing where it follows its base or another of its
 * variants without a word between them.
 */
export function renderVariantPlace(
  context: NoteContext,
  block: NumberedBlock,
  family: Family<NumberedBlock>,
): string {
  const before = blockBefore(context.note.source.tree, block.id);
  if (before !== undefined && family.some(({ id }) => id === before)) return '';
  const [{ number: base }] = family;
  const { number, title } = block;
  return fillTemplate('variant-place', {
    number,
    title,
    base,
    target: calculationId(block.id),
    ofCase: wordCaseBeside(block.title, block.case),
  });
}

/** The block that stands directly before another, with nothing between them. */
function blockBefore(tree: Root, id: string): string | undefined {
  const find = (node: Nodes): string | undefined => {
    if (!('children' in node)) return undefined;
    const children = node.children as readonly Nodes[];
    const at = children.findIndex((child) => isBlock(child) && child.block === id);
    const before = children[at - 1];
    if (at >= 0) return before && isBlock(before) ? before.block : undefined;
    for (const child of children) {
      const found = find(child);
      if (found !== undefined) return found;
    }
    return undefined;
  };
  return find(tree);
}

function isBlock(node: Nodes): node is NoteBlockNode {
  return node.type === 'noteBlock';
}

/** Blocks of one calculation side by side, at the place of a `yaml comparison`. */
export function renderComparisonBlock(context: NoteContext, node: BlockNode, section: Section) {
  const comparisons = context.note.source.comparisons;
  const index = comparisons.findIndex(({ place }) => place.piece === node.piece);
  const comparison = comparisons[index];
  if (!comparison) throw new Error(`the comparison '${node.piece}' of the text was not read`);
  const columns = comparison.of.map(({ name }) => {
    const block = context.blocks.find(({ id }) => id === name);
    if (!block) throw new Error(`the block '${name}' of a comparison was not evaluated`);
    return { number: block.number, block: shownOf(block) };
  });
  const id = `comparison-${context.numbering.prefix}${index + 1}`;
  const level = Math.min(section.level + 1, 6);
  const title =
    comparison.title ?? `Comparison of calculations ${columns.map(({ number }) => number).join(', ')}`;
  const html = fillTemplate('side-by-side', { ...viewComparison(context, columns), id, level, title });
  return { html, headings: [{ id, level, number: '', text: title, typeset: false }] };
}
