import type { Collector } from '../diagnostics/collector.ts';
import { relatedNote } from '../diagnostics/related-note.ts';
import { TextLines } from '../diagnostics/text-lines.ts';

/** Reports the marks that git leaves where two versions clash; true where there are any. */
export function findMergeConflict(file: string, content: string, collector: Collector): boolean {
  const text = new TextLines(content);
  const { lines } = text;
  let found = false;
  for (const [index, line] of lines.entries()) {
    if (!/^<{7}( |$)/.test(line)) continue;
    const end = lines.findIndex((other, i) => i > index && /^>{7}( |$)/.test(other));
    if (end < 0) continue;
    found = true;
    collector.error('merge-conflict', text.placeOf(file, index), {}, [
      { place: text.placeOf(file, end), note: relatedNote('ends-here', {}) },
    ]);
  }
  return found;
}
