import type { HeadingEntry } from './heading-numbers.ts';
import { calculationId, sheetId } from './ids.ts';
import { imageSource, type PageImage } from './image-source.ts';
import type { NoteContext } from './note-context.ts';

/** A drawing on a page of its own. */
export interface SheetView {
  readonly heading: HeadingEntry;
  /** The name of its pages in the style sheet. */
  readonly pages: string;
  /** Of a picture of the project. */
  readonly image: { readonly source: string; readonly text: string } | null;
  /** Of a calculation, whose figure it is. */
  readonly calculation: { readonly id: string; readonly number: string; readonly svg: string } | null;
}

/** The name of the pages for sheets of a part of the document; `pages` is the name of the other pages of that part. */
export function sheetPages(pages?: string): string {
  return pages === undefined ? 'sheet-a3' : `${pages}-sheet-a3`;
}

/**
 * The sheets of a note in the order in which it lists them.
 *
 * @param images by the address that the note writes
 * @param pages the name of the other pages of the note; none where the note is the document
 */
export function viewSheets(
  { note, numbering, blocks }: Pick<NoteContext, 'note' | 'numbering' | 'blocks'>,
  images: ReadonlyMap<string, PageImage>,
  pages?: string,
): readonly SheetView[] {
  return (note.source.frontMatter.sheets ?? []).map(({ shows, caption }, i) => {
    const number = `${numbering.prefix}${i + 1}`;
    const entry = (text: string): HeadingEntry => ({
      id: sheetId(i),
      level: 1 + numbering.above,
      number: `Sheet ${number}`,
      text,
      typeset: false,
    });
    if (shows.kind === 'image') {
      const file = images.get(shows.address);
      if (!file || caption === undefined) throw new Error(`the image '${shows.address}' was not read`);
      const image = { source: imageSource(file), text: caption };
      return { heading: entry(caption), pages: sheetPages(pages), image, calculation: null };
    }
    const block = blocks.find(({ id }) => id === shows.block.name);
    const figure = block?.evaluated.figure;
    if (!block || !figure) throw new Error(`'${shows.block.name}' has no figure`);
    const { id, number: own } = block;
    return {
      heading: entry(caption ?? figure.caption),
      pages: sheetPages(pages),
      image: null,
      calculation: {
        id: calculationId(id),
        number: own,
        svg: figure.svg,
      },
    };
  });
}
