import type { Collector } from '../diagnostics/collector.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import type { Block, NoteSource } from '../source/note-source.ts';
import { rootOf } from './inherit/root-of.ts';

/**
 * Reports what a comparison names and cannot set side by side: what is no block of the note, schedules, and blocks of different calculations.
 *
 * @param blocks complete
 */
export function checkComparisons(
  {
    comparisons,
    blocks: written,
    schedules,
    faultyBlocks,
  }: Pick<NoteSource, 'comparisons' | 'blocks' | 'schedules' | 'faultyBlocks'>,
  blocks: ReadonlyMap<string, Block>,
  collector: Collector,
): void {
  const ids = written.map(({ id }) => id);
  for (const { of } of comparisons) {
    for (const { name, place } of of) {
      if (ids.includes(name) || faultyBlocks.has(name)) continue;
      const schedule = schedules.find(({ id }) => id === name.split('.')[0]);
      if (schedule) {
        collector.error('compared-schedule', place, { id: schedule.id });
        continue;
      }
      collector.error('unknown-compared', place, { id: name, nearest: nearestName(name, ids), known: ids });
    }
    const [first, ...others] = of.flatMap(({ name, place }) => {
      const block = blocks.get(name);
      return block ? [{ id: name, place, calculation: nameCalculation(block, blocks) }] : [];
    });
    for (const { id, place, calculation } of others) {
      if (calculation === first!.calculation) continue;
      const data = { id, calculation, first: first!.id, ofFirst: first!.calculation };
      collector.error('compared-of-another-calculation', place, data);
    }
  }
}

/** The engineer's own formulas are one calculation with the blocks that are based on them. */
function nameCalculation(block: Block, blocks: ReadonlyMap<string, Block>): string {
  return block.kind === 'calc'
    ? `a calculation '${block.calculation}'`
    : `the formulas of '${rootOf<Block>(block, ({ basedOn }) => blocks.get(basedOn?.name ?? '')).id}'`;
}
