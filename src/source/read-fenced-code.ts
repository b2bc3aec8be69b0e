import type { Code } from 'mdast';
import type { Point } from 'unist';

/** Code, with where the text ends in which it stands alone. */
export interface FencedCode {
  readonly code: Code;
  readonly end: Point;
}

/**
 * Reads a text that is nothing but code between fences at the margin, with blank lines behind it, as most blocks of a note are; undefined
 * for whatever else stands there or is written in another way: that the parser reads.
 *
 * **Invariant:** code and end are those of the tree of `parseMarkdown`.
 */
export function readFencedCode(text: string): FencedCode | undefined {
  const opening = OPENING.exec(text);
  if (!opening || UNUSUAL.test(text)) return undefined;
  const { 0: head, 1: fence = '', 2: lang, 3: meta } = opening;
  const line = fenceBehind(text, head.length - 1, fence);
  // What looks like a closing line and is written in another way is not judged here.
  if (line < 0 || !text.startsWith(fence, line)) return undefined;
  const behind = line + fence.length;
  if (!BLANK.test(text.slice(behind))) return undefined;
  const lines = countFeeds(text, 0, line);
  const code: Code = {
    type: 'code',
    lang: lang ?? null,
    meta: meta ?? null,
    value: text.slice(head.length, Math.max(head.length, line - 1)),
    position: {
      start: { line: 1, column: 1, offset: 0 },
      end: { line: lines + 1, column: fence.length + 1, offset: behind },
    },
  };
  const below = countFeeds(text, behind, text.length);
  const end = { line: lines + 1 + below, column: text.length - text.lastIndexOf('\n'), offset: text.length };
  return { code, end };
}

const OPENING = /^(`{3,}|~{3,})(?:([\w-]+)(?: ([\w-]+(?: [\w-]+)*))?)?\n/;
/** Other ends of lines, tabs, and what is replaced. */
const UNUSUAL = /[\r\t\0]/;
const BLANK = /^(?:\n *)*$/;

/** Where the first line begins whose first word is, or begins with, the fence; -1 where there is none. */
function fenceBehind(text: string, from: number, fence: string): number {
  for (let at = text.indexOf(fence, from); at >= 0; at = text.indexOf(fence, at + 1)) {
    const line = text.lastIndexOf('\n', at) + 1;
    if (text.slice(line, at).trim() === '') return line;
  }
  return -1;
}

function countFeeds(text: string, from: number, to: number): number {
  let count = 0;
  for (let at = text.indexOf('\n', from); at >= 0 && at < to; at = text.indexOf('\n', at + 1)) count += 1;
  return count;
}
