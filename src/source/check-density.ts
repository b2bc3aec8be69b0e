import type { Collector } from '../diagnostics/collector.ts';
import { TextLines } from '../diagnostics/text-lines.ts';

/** Marks of emphasis, links and code in one paragraph, and headings of two lines in one note: more take minutes to parse. */
const MOST_MARKS = 6000;
const MOST_UNDERLINES = 2000;
/** Characters of a paragraph with a bracket, behind which the parser looks back from every word. */
const LONGEST_BRACKETED = 20_000;

const FENCE = /^[ \t>]*(?:(?:[-+*]|\d{1,9}[.)])[ \t]+)*(`{3,}|~{3,})/;
const MARKS = /[*_~[\]`]/g;
/** A line with which a paragraph of its own begins: an item, a row, a heading, a definition. */
const OWN = /^[ \t>]*(?:[-+*|#]|\d{1,9}[.)]|\[[^\]]*\]:)/;
const UNDERLINE = /^ {0,3}(?:-+|=+)[ \t]*$/;

/**
 * Reports text so dense with marks that the time to parse it, which grows with the square of their number, would be no time
 * to wait; true where there is such text. What stands between fences is not parsed and does not count.
 */
export function isTooDense(file: string, content: string, collector: Collector): boolean {
  const text = new TextLines(content);
  let [fence, begin, marks, densest, underlines] = ['', 0, 0, 0, 0];
  const front = text.lines[0] === '---' ? text.lines.indexOf('---', 1) : -1;
  let paragraph = { begin: 0, length: 0, hasBracket: false };
  for (const [index, line] of text.lines.entries()) {
    const found = FENCE.exec(line)?.[1];
    if (fence !== '') {
      if (found?.startsWith(fence) && line.trimEnd().endsWith(found)) fence = '';
      continue;
    }
    if (found !== undefined) fence = found;
    if (found !== undefined || /^[ \t>]*$/.test(line)) {
      [begin, marks] = [index + 1, 0];
      paragraph = { begin, length: 0, hasBracket: false };
      continue;
    }
    if (OWN.test(line)) paragraph = { begin: index, length: 0, hasBracket: false };
    if (index > front) paragraph.length += line.length;
    paragraph.hasBracket ||= line.includes('[');
    if (paragraph.hasBracket && paragraph.length > LONGEST_BRACKETED) {
      const place = text.placeOf(file, paragraph.begin);
      collector.error('paragraph-too-long', place, { limit: LONGEST_BRACKETED });
      return true;
    }
    if (UNDERLINE.test(line)) underlines += 1;
    const isRow = /^[ \t>]*\|/.test(line);
    if (isRow) densest = densestCell(line);
    else marks += countMarks(line);
    if (marks <= MOST_MARKS && densest <= MOST_MARKS && underlines <= MOST_UNDERLINES) continue;
    const place = text.placeOf(file, marks > MOST_MARKS ? begin : index);
    if (marks > MOST_MARKS || densest > MOST_MARKS)
      collector.error('too-many-marks', place, { limit: MOST_MARKS });
    else collector.error('too-many-underlines', place, { limit: MOST_UNDERLINES });
    return true;
  }
  return false;
}

function countMarks(text: string): number {
  return text.match(MARKS)?.length ?? 0;
}

/** Each cell of a table is parsed by itself. */
function densestCell(row: string): number {
  return countMarks(row) > MOST_MARKS ? Math.max(...row.split('|').map(countMarks)) : 0;
}
