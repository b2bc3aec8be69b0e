import type { Collector } from '../diagnostics/collector.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';

/** Reports sheets that are to show the figure of a calculation which is not there, or has none. */
export function checkSheets({ source, blocks }: EvaluatedNote, collector: Collector): void {
  const drawn = blocks.filter(({ evaluated }) => evaluated.figure !== undefined).map(({ id }) => id);
  for (const { shows } of source.frontMatter.sheets ?? []) {
    if (shows.kind !== 'figure' || drawn.includes(shows.block.name)) continue;
    const { name, place } = shows.block;
    const isThere = blocks.some(({ id }) => id === name);
    collector.error('sheet-without-figure', place, { name, isThere, nearest: nearestName(name, drawn) });
  }
}
