import type { TextLines } from '../diagnostics/text-lines.ts';
import { OPENING_LINE } from './block-fence.ts';

/** Where the front matter of a note stands, by lines counted from 0: the opening line is the first of the text. */
export interface FrontMatterLines {
  /** The line behind its last key: the closing line where there is one. */
  readonly end: number;
  readonly closed: boolean;
}

const MARK = /^---[ \t]*$/;

/**
 * Finds the front matter of a text; undefined where the text does not begin with one. One without a closing line, or whose closing
 * line lies behind a block, ends at the first blank line: it is still being written.
 */
export function cutFrontMatter({ lines }: TextLines): FrontMatterLines | undefined {
  if (!MARK.test(lines[0]!)) return undefined;
  const closing = lines.findIndex((line, index) => index > 0 && MARK.test(line));
  const inside = lines.slice(1, closing);
  if (closing > 0 && !inside.some((line) => OPENING_LINE.test(line))) return { end: closing, closed: true };
  const end = lines.findIndex((line, index) => index > 0 && (line.trim() === '' || OPENING_LINE.test(line)));
  return { end: end < 0 ? lines.length : end, closed: false };
}
