/** A start tag in a text of markup, by offsets: of its first character, and behind its last. */
export interface RootTag {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** What may stand before the root element, with its end: comments, instructions, the declaration of the type. */
const BEFORE: readonly (readonly [opens: string, closes: string])[] = [
  ['<!--', '-->'],
  ['<?', '?>'],
  ['<!', '>'],
];

/** The start tag of the root of well-formed XML: a comment before it may look like one. Undefined where there is none. */
export function rootTag(xml: string): RootTag | undefined {
  let start = xml.indexOf('<');
  while (start >= 0) {
    const before = BEFORE.find(([opens]) => xml.startsWith(opens, start));
    if (before === undefined) break;
    const closes = xml.indexOf(before[1], start + before[0].length);
    start = closes < 0 ? -1 : xml.indexOf('<', closes);
  }
  if (start < 0) return undefined;
  const tag = /<[^>"']*(?:"[^"]*"[^>"']*|'[^']*'[^>"']*)*>/y;
  tag.lastIndex = start;
  const text = tag.exec(xml)?.[0];
  return text === undefined ? undefined : { start, end: start + text.length, text };
}
