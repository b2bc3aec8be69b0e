import type { Html, Root } from 'mdast';
import { SKIP, visit } from 'unist-util-visit';
import { type NoteText, placeOf } from './note-text.ts';

/** HTML element -> what to write instead. */
const INSTEAD: Readonly<Record<string, string>> = {
  br: 'end the line with a backslash, or begin a new row of the table',
  b: 'write **bold**',
  strong: 'write **bold**',
  i: 'write *emphasis*',
  em: 'write *emphasis*',
  u: 'write *emphasis*',
  s: 'write ~~struck out~~',
  del: 'write ~~struck out~~',
  code: 'write `code` between backticks',
  sub: 'write it as math: $U_p$',
  sup: 'write it as math: $I^2$',
  a: 'write [text](https://...)',
  img: 'write ![description](file)',
  table: 'write a markdown table with | between the cells',
  p: 'leave a blank line between paragraphs',
  div: 'leave it out; the layout is that of the document',
  span: 'leave it out; the layout is that of the document',
  center: 'leave it out; the layout is that of the document',
  hr: 'write a line ---',
  ul: 'begin each line with a dash',
  ol: 'begin each line with a number',
  li: 'begin each line with a dash',
  h1: 'begin the line with #',
  h2: 'begin the line with ##',
  h3: 'begin the line with ###',
};

/** Reports raw HTML and takes it out of the tree. A comment is a remark of the author's to himself and just goes. */
export function refuseHtml(tree: Root, note: NoteText): void {
  const reported = new Set<string>();
  visit(tree, 'html', (node, index, parent) => {
    if (index === undefined || !parent) return undefined;
    if (!isComment(node)) reportHtml(node, reported, note);
    parent.children.splice(index, 1);
    return [SKIP, index];
  });
}

export function isComment({ value }: Pick<Html, 'value'>): boolean {
  return /^<!--(?:(?!-->)[\s\S])*-->\s*$/.test(value);
}

/** @param reported the elements that were reported before */
export function reportHtml(node: Html, reported: Set<string>, note: NoteText): void {
  if (/^<!--(?![\s\S]*-->)/.test(node.value)) {
    note.collector.error('unclosed-comment', placeOf(node, note), {});
    return;
  }
  const element = /<\/?([A-Za-z][A-Za-z0-9]*)/.exec(node.value)?.[1]?.toLowerCase();
  const instead = element === undefined ? undefined : INSTEAD[element];
  // The end of an element that has been reported says nothing new.
  if (element !== undefined && node.value.startsWith('</') && reported.has(element)) return;
  if (element !== undefined) reported.add(element);
  note.collector.error('raw-html', placeOf(node, note), { html: node.value, instead });
}
