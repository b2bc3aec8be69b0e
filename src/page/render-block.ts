import type { Place } from '../diagnostics/place.ts';
import { contentKey } from '../memory/content-key.ts';
import type { Memory } from '../memory/memory.ts';
import { viewAssumptions, viewHolds, viewOwnReferences } from './annex-views.ts';
import { viewCalculation } from './calculation-view.ts';
import { drawFigure } from './draw-figure.ts';
import { calculationId, referenceId } from './ids.ts';
import type { BlockContext, NoteContext, ShownBlock, ShownOtherNote, ShownValue } from './note-context.ts';
import type { BlockNode, Section } from './render-prose.ts';
import { fillTemplate } from './templates.ts';

/** A calculation at the place of its block, one level below the section in which it stands. */
export function renderCalculation(
  context: NoteContext,
  node: BlockNode,
  section: Section,
  nextFigure: () => string,
  memory: Memory,
) {
  const block = context.blocks.find(({ id }) => id === node.block);
  if (!block) throw new Error(`the block '${node.block}' of the text was not evaluated`);
  const level = Math.min(section.level + 1, 6);
  const number = `Calculation ${block.number}`;
  const place = { level, number, figure: block.evaluated.figure ? nextFigure() : undefined };
  return {
    html: recallPage(context, block, place, memory),
    headings: [{ id: calculationId(block.id), level, number, text: block.title, typeset: false }],
  };
}

/** Where a calculation stands in its note. */
export interface CalculationPlace {
  readonly level: number;
  readonly number: string;
  /** The number of its figure. */
  readonly figure: string | undefined;
}

/** The HTML of a calculation, made anew only where its result, its place or what it shows of the rest of the note is another. */
export function recallPage(
  context: BlockContext & Pick<NoteContext, 'project'>,
  { id, title, evaluated, accepted }: ShownBlock,
  place: CalculationPlace,
  memory: Memory,
): string {
  const { words, project, references } = context;
  const shown: ShownBlock = { id, title, evaluated, accepted };
  const { people } = project;
  const { phrases, open } = references;
  const content = [
    memory.nameOf(words),
    memory.nameOf(evaluated),
    contentKey([id, title, accepted, place]),
    contentKey(people),
    contentKey([phrases, open]),
  ].join('\n');
  const answer = (question: string) => {
    const [kind] = question.split(' ', 1) as [keyof typeof QUESTIONS];
    return QUESTIONS[kind](context, question.slice(kind.length + 1));
  };
  return memory.recallReading('page', content, answer, (ask) => {
    const asking: BlockContext = {
      words,
      project: { people },
      references: { phrases, open },
      numberOf: (block) => ask(`number ${block}`) as string | undefined,
      nameOf: (block) => ask(`name ${block}`) as string | undefined,
      otherNote: (other) => ask(`other ${other}`) as ShownOtherNote | undefined,
      firstFor: (purpose) => ask(`first ${purpose}`) as ShownBlock | undefined,
      cautionedBy: (text) => ask(`cautioned ${text}`) as readonly string[],
      valueIn: (block, name) => ask(`value ${block}.${name}`) as ShownValue | undefined,
      firstGivenLike: (like) => ask(`like ${like}`) as string | undefined,
    };
    return pageOf(asking, shown, place);
  });
}

/** The questions that a calculation has for its note. */
const QUESTIONS = {
  number: ({ numberOf }: BlockContext, block: string) => numberOf(block),
  name: ({ nameOf }: BlockContext, block: string) => nameOf(block),
  other: ({ otherNote }: BlockContext, number: string) => otherNote(number),
  first: ({ firstFor }: BlockContext, purpose: string) => firstFor(purpose),
  cautioned: ({ cautionedBy }: BlockContext, text: string) => cautionedBy(text),
  like: ({ firstGivenLike }: BlockContext, like: string) => firstGivenLike(like),
  value: ({ valueIn }: BlockContext, target: string) => {
    const [block, name] = target.split('.');
    return valueIn(block!, name!);
  },
};

function pageOf(
  context: BlockContext,
  block: ShownBlock,
  { level, number, figure }: CalculationPlace,
): string {
  const drawn = block.evaluated.figure;
  return fillTemplate('calculation', {
    ...viewCalculation(context, block),
    level,
    number,
    title: block.title,
    figure: drawn && figure !== undefined ? drawFigure(drawn.svg, drawn.caption, figure) : '',
  });
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
