import { type PDFDict, type PDFDocument, PDFHexString, PDFName, PDFString } from '@cantoo/pdf-lib';
import { listOutlineItems } from './outline-items.ts';

/** A heading as its bookmark should read. */
export interface Heading {
  readonly text: string;
  /** True where the heading holds a formula or the like, of which the browser makes a text of its own. */
  readonly typeset?: boolean;
}

/**
 * Gives the bookmarks the texts of the headings, in order. The browser makes one for each heading, but leaves the blank
 * out where the heading wraps.
 *
 * @throws {Error} when the headings are not those of the page
 */
export function rewriteOutline(document: PDFDocument, headings: readonly Heading[]): void {
  const entries = listOutlineItems(document).map(({ entry }) => entry);
  if (entries.length !== headings.length) {
    const printed = entries.map(readTitle);
    const odd = printed.findIndex((title, index) => squeeze(title) !== squeeze(headings[index]?.text ?? ''));
    throw new Error(
      `The PDF has ${entries.length} bookmarks, but the page ${headings.length} headings: the first that differ are ` +
        `"${printed[odd] ?? ''}" and "${headings[odd]?.text ?? ''}".`,
    );
  }
  entries.forEach((entry, index) => {
    const heading = headings[index]!;
    const printed = readTitle(entry);
    if (heading.typeset !== true && squeeze(printed) !== squeeze(heading.text)) {
      throw new Error(`Bookmark ${index + 1} reads "${printed}", but the heading "${heading.text}".`);
    }
    entry.set(PDFName.of('Title'), PDFHexString.fromText(heading.text));
  });
}

/** Title of a bookmark, empty where it has none. */
export function readTitle(entry: PDFDict): string {
  const title = entry.lookup(PDFName.of('Title'));
  return title instanceof PDFString || title instanceof PDFHexString ? title.decodeText() : '';
}

/** The text without blanks and without what a browser puts in for hyphenation. */
function squeeze(text: string): string {
  return text.replaceAll(/[\s\u00ad\u200b]+/g, '');
}
