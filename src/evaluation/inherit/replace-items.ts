import type { Collector } from '../../diagnostics/collector.ts';
import { CALCULATIONS } from '../../engine/calculations/registry.ts';
import type { Block, CalcBlock, GivenSource } from '../../source/note-source.ts';

/**
 * A base without the values of each item of the register whose place an item of the block takes, by filling one of its givens or an
 * alternative to one: no block has half the values of one device and half those of another. What nothing fills then is told.
 *
 * @param block filled itself
 */
export function withoutReplacedItems(block: CalcBlock, base: Block, collector: Collector): Block {
  if (base.kind === 'formula') return base;
  const own = new Map(block.given.map((given) => [given.name, given]));
  const replacing = itemsReplaced(block, base);
  const gone = base.given.filter((given) => replacing.has(itemOf(given) ?? ''));
  if (gone.length === 0) return base;
  const left = new Set((block.without ?? []).map(({ name }) => name));
  const alternatives = CALCULATIONS.get(base.calculation)?.alternatives ?? [];
  const isFilled = (name: string): boolean =>
    own.has(name) ||
    alternatives.some(({ oneOf }) => oneOf.includes(name) && oneOf.some((one) => own.has(one)));
  for (const given of gone) {
    if (isFilled(given.name) || left.has(given.name)) continue;
    const replaced = itemOf(given)!;
    const by = replacing.get(replaced)!;
    const data = { item: itemOf(by)!, replaced, base: base.id, given: given.name };
    collector.caution('item-lacks', by.namePlace, data);
  }
  return { ...base, given: base.given.filter((given) => !gone.includes(given)) };
}

/** Items of the base, each with a given of the block by which another takes its place. */
function itemsReplaced(block: CalcBlock, base: CalcBlock): ReadonlyMap<string, GivenSource> {
  const alternatives = CALCULATIONS.get(base.calculation)?.alternatives ?? [];
  const replaced = new Map<string, GivenSource>();
  for (const by of block.given) {
    const item = itemOf(by);
    if (item === undefined) continue;
    const names = alternatives.flatMap(({ oneOf }) => (oneOf.includes(by.name) ? oneOf : []));
    for (const given of base.given) {
      const other = itemOf(given);
      const isSame = given.name === by.name || names.includes(given.name);
      if (isSame && other !== undefined && other !== item && !replaced.has(other)) replaced.set(other, by);
    }
  }
  return replaced;
}

/** The item of the register that fills a given. */
function itemOf({ origin }: GivenSource): string | undefined {
  return origin?.kind === 'register' ? origin.entry.slice(0, origin.entry.lastIndexOf('.')) : undefined;
}
