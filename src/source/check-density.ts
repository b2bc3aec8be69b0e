import type { Collector } from '../diagnostics/collector.ts';
import { TextLines } from '../diagnostics/text-lines.ts';

/** Marks of emphasis, links and code in one paragraph, and headings of two lines in one note: more take minutes to parse. */
const MOST_MARKS = 6000;
const MOST_UNDERLINES = 2000;

const FENCE = /^[ \t>]*(?:(?:[-+*]|\d{1,9}[.)])[ \t]+)*(`{3,}|~{3,})/;
const MARKS = /[*_~[\]`]/g;
const UNDERLINE = /^ {0,3}(?:-+|=+)[ \t]*$/;

/**
 * Reports text so dense with marks that the time to parse it, which grows with the square of their number, would be no time
 * to wait; true where there is such text. What stands between fences is not parsed and does not count.
 */
export function isTooDense(file: string, content: string, collector: Collector): boolean {
  const text = new TextLines(content);
  let [fence, begin, marks, underlines] = ['', 0, 0, 0];
  for (const [index, line] of text.lines.entries()) {
    const found = FENCE.exec(line)?.[1];
    if (fence !== '') {
      if (found?.startsWith(fence) && line.trimEnd().endsWith(found)) fence = '';
      continue;
    }
    if (found !== undefined) fence = found;
    if (found !== undefined || /^[ \t>]*$/.test(line)) {
      [begin, marks] = [index + 1, 0];
      continue;
    }
    if (UNDERLINE.test(line)) underlines += 1;
    // Each cell of a table is parsed by itself.
    if (!/^[ \t>]*\|/.test(line)) marks += line.match(MARKS)?.length ?? 0;
    if (marks <= MOST_MARKS && underlines <= MOST_UNDERLINES) continue;
    const at = marks > MOST_MARKS ? begin : index;
    const place = text.placeOf(file, at);
    if (marks > MOST_MARKS) collector.error('too-many-marks', place, { limit: MOST_MARKS });
    else collector.error('too-many-underlines', place, { limit: MOST_UNDERLINES });
    return true;
  }
  return false;
}
