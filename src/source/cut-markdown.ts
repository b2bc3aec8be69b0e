/**
 * Cuts a markdown text at lines at which a fence or a heading begins at the margin behind a blank line, and behind code that began at such a
 * line. Nothing in a list, a quotation or a footnote goes on over such a line; only code, formulas and HTML at the margin do, until they are
 * closed. So as far as they can be told by lines no cut falls in them; `readMarkdown` asks the parser whether that was right.
 *
 * @returns the pieces, which make up the text; a line lies in one of them as a whole
 */
export function cutMarkdown(text: string): string[] {
  const pieces: string[] = [];
  let from = 0;
  let open: Ending | undefined;
  let isBehindBlank = false;
  let isBehindCode = false;
  for (const { index, 1: line = '' } of text.matchAll(LINE)) {
    if (open) {
      if (open(line)) {
        open = undefined;
        isBehindCode = CODE.test(text.slice(from, from + 3));
      }
    } else {
      if ((isBehindCode ? BEGINS.test(line) : isBehindBlank && CUT.test(line)) && index > from) {
        pieces.push(text.slice(from, index));
        from = index;
        isBehindCode = false;
      }
      open = endingOf(line);
    }
    isBehindBlank = BLANK.test(line);
  }
  return [...pieces, text.slice(from)];
}

/** Whether a line ends what runs over lines. */
type Ending = (line: string) => boolean;

/** A line with its end; the last one may be without. */
const LINE = /([^\r\n]*)(?:\r\n|\n|\r)|([^\r\n]+)$/g;
const BLANK = /^[ \t]*$/;
const CUT = /^(?:#{1,6}(?:[ \t]|$)|`{3,}[^`]*$|~{3,})/;
const CODE = /^(?:```|~~~)/;
/** A line with words; a byte order mark would be none at the beginning of what is parsed. */
const BEGINS = /^(?!\uFEFF)[ \t]*[^ \t]/;
const FENCE = /^ {0,3}(?:(`{3,})[^`]*|(~{3,})(?!~).*|(\${2,})[^$]*)$/;
const COMMENT = /^ {0,3}<!--/;

/** What ends that which begins on a line and may hold blank lines; undefined where there is no such thing, or the line ends it. */
function endingOf(line: string): Ending | undefined {
  const found = FENCE.exec(line);
  const fence = found?.[1] ?? found?.[2] ?? found?.[3];
  if (fence !== undefined) {
    return (other) => {
      const marks = other.trim();
      return marks.length >= fence.length && marks === fence[0]!.repeat(marks.length);
    };
  }
  const endsComment = (other: string): boolean => other.includes('-->');
  return COMMENT.test(line) && !endsComment(line) ? endsComment : undefined;
}
