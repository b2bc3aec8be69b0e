import { Collector } from '../../diagnostics/collector.ts';
import type { Diagnostic } from '../../diagnostics/diagnostic.ts';
import { nearestName } from '../../diagnostics/nearest-name.ts';
import type { Block, CalcBlock, FormulaBlock, GivenSource, OwnGiven } from '../../source/note-source.ts';
import { inheritGivens, type Replaced } from './inherit-givens.ts';
import { withoutReplacedItems } from './replace-items.ts';

export interface AppliedBase {
  /** Complete; undefined where base and block do not go together. */
  readonly block: Block | undefined;
  readonly replaced: readonly Replaced[];
  readonly diagnostics: readonly Diagnostic[];
}

/**
 * Completes a block with what its base gives, and reports what does not go together.
 *
 * @param base complete itself
 * @param fill adds to the block, once its calculation is known, what it takes from the register
 */
export function applyBase(block: CalcBlock, base: Block, fill: (block: CalcBlock) => CalcBlock): AppliedBase {
  const collector = new Collector();
  checkCalculation(block, base, collector);
  checkWithout(block, base, collector);
  const own = base.kind === 'calc' ? fill(withCalculation(block, base)) : block;
  const kept = withoutReplacedItems(own, base, collector);
  const { given, replaced } = inheritGivens({ given: own.given, without: own.without ?? [] }, kept);
  const complete = base.kind === 'calc' ? { ...own, given } : onFormulas(block, base, given, collector);
  return {
    block: collector.hasErrors ? undefined : complete,
    replaced,
    diagnostics: collector.list(),
  };
}

function withCalculation(block: CalcBlock, base: CalcBlock): CalcBlock {
  const { calculation, calculationPlace } = block.calculation === '' ? base : block;
  return { ...block, calculation, calculationPlace };
}

/** A variant of the engineer's own calculation has its symbols, units, formulas and checks. */
function onFormulas(
  block: CalcBlock,
  base: FormulaBlock,
  given: readonly GivenSource[],
  collector: Collector,
): FormulaBlock {
  const [item] = block.givensFrom ?? [];
  if (item) collector.error('formulas-filled', item.place, { base: base.id });
  const { calculation: _, calculationPlace: __, ...rest } = block;
  const { purpose, steps, checks } = base;
  const known = new Map(base.given.map((one) => [one.name, one]));
  const own = given.flatMap((one): OwnGiven[] => {
    const declared = known.get(one.name);
    if (!declared) {
      const { name, namePlace } = one;
      const data = {
        name,
        base: base.id,
        nearest: nearestName(name, known.keys()),
        known: [...known.keys()],
      };
      collector.error('unknown-own-given', namePlace, data);
      return [];
    }
    const { symbol, symbolPlace, meaning, unit, unitPlace } = declared;
    return [{ symbol, symbolPlace, meaning, unit, unitPlace, ...one }];
  });
  return {
    ...rest,
    kind: 'formula',
    ...(purpose === undefined ? {} : { purpose }),
    given: own,
    steps,
    checks,
  };
}

function checkCalculation(block: CalcBlock, base: Block, collector: Collector): void {
  const { calculation, calculationPlace } = block;
  const ofBase = base.kind === 'calc' ? base.calculation : undefined;
  if (calculation === '' || calculation === ofBase) return;
  collector.error('base-of-another-calculation', calculationPlace, { base: base.id, calculation, ofBase });
}

/** What the register fills may be left out too; what that is, is not known here. */
function checkWithout(
  { given, givensFrom, without = [] }: CalcBlock,
  base: Block,
  collector: Collector,
): void {
  const known = base.given.map(({ name }) => name);
  for (const { name, place } of without) {
    if (!known.includes(name)) {
      if (givensFrom) continue;
      collector.error('without-unknown', place, {
        name,
        base: base.id,
        nearest: nearestName(name, known),
        known,
      });
    } else if (given.some((one) => one.name === name)) collector.error('without-and-given', place, { name });
    else if (base.kind === 'formula') collector.error('without-own-given', place, { name, base: base.id });
  }
}
