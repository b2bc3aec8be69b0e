import type { Memory } from '../memory/memory.ts';
import { type ChangesSince, isAnyChanged } from './changes-view.ts';
import { Ids } from './ids.ts';
import { imageSource, type PageImage } from './image-source.ts';
import { listTargets } from './list-targets.ts';
import type { NoteContext } from './note-context.ts';
import { renderPhoto } from './photo/render-photo.ts';
import { type DrawnFigures, renderCalculation, renderRegister } from './render-block.ts';
import { type ProseParts, type RenderedProse, renderProse } from './render-prose.ts';
import { renderSchedule } from './schedule/render-schedule.ts';
import { renderComparisonBlock } from './variants/render-variants.ts';

/** Where the author has put the tables of assumptions, open points and references: number of the section, or empty. */
export type RegisterPlaces = Readonly<Record<'assumptions' | 'holds' | 'references', string>>;

export interface RenderedBody extends RenderedProse {
  readonly registers: RegisterPlaces;
}

/**
 * The author's text with its calculations, numbered as the context says.
 *
 * @param images by the address that the note writes
 * @param memory holds the pages of calculations that were made before
 * @param live whether it is wanted in parts
 * @param since what has a bar in the margin
 */
export function renderBody(
  context: NoteContext,
  images: ReadonlyMap<string, PageImage>,
  memory: Memory,
  live = false,
  since?: ChangesSince,
): RenderedBody {
  const { beyond, note, numbering, references } = context;
  const registers = { assumptions: '', holds: '', references: '' };
  let figures = 0;
  const nextFigure = () => {
    figures += 1;
    return `${numbering.prefix}${figures}`;
  };
  const drawn: DrawnFigures = new Map();
  const block: ProseParts['block'] = (node, section) => {
    if (node.kind === 'calc' || node.kind === 'formula') {
      return renderCalculation(context, node, section, nextFigure, drawn, memory);
    }
    if (node.kind === 'comparison') return renderComparisonBlock(context, node, section);
    if (node.kind === 'photo') return renderPhoto(context, node, nextFigure, images);
    if (node.kind === 'schedule') return renderSchedule(context, node, section, nextFigure, memory);
    registers[node.kind] ||= section.number;
    return { html: renderRegister(context, node) };
  };
  const prose = renderProse(note.source.tree, {
    ids: new Ids(),
    live,
    numbering,
    ...(since ? { changedLines: since.lines } : {}),
    nextFigure,
    title: note.source.frontMatter.title,
    proseTexts: note.proseTexts,
    phrases: references.phrases,
    otherNote: context.otherNote,
    targets: new Map([...listTargets(note), ...beyond.map((id) => [id, id] as const)]),
    image: ({ url }) => {
      const file = images.get(url);
      if (!file) throw new Error(`the image '${url}' was not read`);
      return { source: imageSource(file) };
    },
    block: (node, section) => {
      const made = block(node, section);
      const family = context.families.get(node.block ?? '')?.map(({ id }) => id) ?? [node.block];
      const isChanged = since && made.html !== '' && isAnyChanged(since, family, context.blocks);
      return isChanged ? { ...made, html: `<div class="changed">${made.html}</div>` } : made;
    },
  });
  return { ...prose, registers };
}
