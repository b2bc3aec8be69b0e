/**
 * A page that is renewed part by part while somebody reads it. Comments stand between its parts: no text of an author can hold one, for
 * all of them are escaped.
 */
export interface PagePart {
  readonly html: string;
  /** Counted from 1, in the note; absent where the part is no part of the text. */
  readonly line?: number;
}

/** What stands before each part. */
export const PART_MARK = '<!--part-->';

/** Where the parts of the author's text go. */
export const TEXT_MARK = '<!--text-->';

/** The parts of a page with those of the text among them; what stands before the first mark is a part too. */
export function insertText(page: string, text: readonly PagePart[]): readonly PagePart[] {
  const [before = '', after = ''] = page.split(TEXT_MARK);
  const rest = after.trimStart().split(PART_MARK).slice(1);
  return [...before.split(PART_MARK).map(partOf), ...text, ...rest.map(partOf)];
}

function partOf(html: string): PagePart {
  return { html };
}
