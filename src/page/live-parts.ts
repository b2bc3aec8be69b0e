/**
 * A live page is renewed part by part while somebody reads it. Comments stand between its parts; that of a part of the author's text
 * says at which line of the note the part begins. No text of an author can hold such a comment, for all of them are escaped.
 */
export interface PagePart {
  readonly html: string;
  /** Counted from 1, in the note; absent where the part is no part of the text. */
  readonly line?: number;
}

const OPENING = '<!--part ';
const CLOSING = '-->';

/** What stands before each part. */
export function markPart(line?: number): string {
  return `${OPENING}${line ?? ''}${CLOSING}`;
}

/** The parts of a live page; what stands before the first mark is a part too. */
export function splitParts(html: string): PagePart[] {
  const [first = '', ...others] = html.split(OPENING);
  return [
    { html: first },
    ...others.map((text): PagePart => {
      const end = text.indexOf(CLOSING);
      const part = text.slice(end + CLOSING.length);
      return end === 0 ? { html: part } : { html: part, line: Number(text.slice(0, end)) };
    }),
  ];
}
