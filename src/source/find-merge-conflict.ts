import type { Collector } from '../diagnostics/collector.ts';
import { splitLines } from './map-places.ts';

/** Reports the marks that git leaves where two versions clash; true where there are any. */
export function findMergeConflict(file: string, text: string, collector: Collector): boolean {
  const lines = splitLines(text);
  let found = false;
  for (const [index, line] of lines.entries()) {
    if (!/^<{7}( |$)/.test(line)) continue;
    const end = lines.findIndex((other, i) => i > index && /^>{7}( |$)/.test(other));
    if (end < 0) continue;
    found = true;
    collector.error('merge-conflict', { file, line: index + 1, column: 1, length: line.length }, {}, [
      { place: { file, line: end + 1, column: 1, length: lines[end]!.length }, note: 'it ends here' },
    ]);
  }
  return found;
}
