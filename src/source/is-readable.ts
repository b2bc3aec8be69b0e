import type { Collector } from '../diagnostics/collector.ts';
import { startOf } from '../diagnostics/place.ts';
import { TextLines } from '../diagnostics/text-lines.ts';
import { isTooDense } from './check-density.ts';
import { findMergeConflict } from './find-merge-conflict.ts';

const LONGEST_NOTE = 4_000_000;

/** Whether a text can be parsed as markdown, and in a time that one can wait; reports why not. */
export function isReadable(path: string, content: string, collector: Collector): boolean {
  if (content.trim() === '') {
    collector.error('empty-note', startOf(path), {});
    return false;
  }
  if (content.length > LONGEST_NOTE) {
    collector.error('text-too-long', startOf(path), { limit: LONGEST_NOTE });
    return false;
  }
  if (findMergeConflict(path, content, collector)) return false;
  return !isTooDeep(path, content, collector) && !isTooDense(path, content, collector);
}

const DEEPEST = 50;
const CONTAINERS = /^(?:[ \t]*(?:>|[-+*](?=[ \t])|\d{1,9}[.)](?=[ \t])))+/;
const MARK = />|[-+*]|\d{1,9}[.)]/g;
/** An item behind so many columns of blanks stands in as many lists: each takes two columns at least, a tab four. */
const INDENTED_MARK = new RegExp(
  `^(?:(?: {4}| {0,3}\\t){${DEEPEST / 2},})[ \\t]*(?:[-+*]|\\d{1,9}[.)])[ \\t]`,
);
/** A line of marks of one kind across the page. */
const RULE = /^[ \t]*(?:(?:-[ \t]*)+|(?:\*[ \t]*)+)$/;

/** The time that markdown takes grows with the square of the depth and faster: a line of marks could take minutes. */
function isTooDeep(path: string, content: string, collector: Collector): boolean {
  const text = new TextLines(content);
  const deep = text.lines.findIndex((line) => {
    if (INDENTED_MARK.test(line)) return true;
    const containers = CONTAINERS.exec(line)?.[0] ?? '';
    if (containers.length <= DEEPEST || RULE.test(line)) return false;
    return (containers.match(MARK)?.length ?? 0) > DEEPEST;
  });
  if (deep < 0) return false;
  collector.error('text-too-deep', text.placeOf(path, deep), {});
  return true;
}
