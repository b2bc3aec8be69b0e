import type { Collector } from '../../diagnostics/collector.ts';
import { nearestName } from '../../diagnostics/nearest-name.ts';
import { relatedNote } from '../../diagnostics/related-note.ts';
import type { CompiledCalculation } from '../../engine/definition/compiled.ts';
import type { Block, CalcBlock, GivenSource, WrittenName } from '../../source/note-source.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import { itemsOf } from './register-items.ts';

/** A value of the register for a given, and where the block names the item. */
interface Offer {
  readonly given: string;
  readonly by: WrittenName;
}

export interface Filling {
  readonly given: readonly GivenSource[];
  /** Whether it is known what every item fills: else there is a fault, which is reported. */
  readonly complete: boolean;
}

/**
 * The givens of a block with those that the items of its `givens_from` fill: of each value whose name is that of a given, one
 * that neither the block nor its base writes, and no alternative to such a one. What is filled is a reference to the entry.
 *
 * @param base complete itself
 */
export function fillGivens(
  block: Pick<CalcBlock, 'given' | 'givensFrom' | 'without'>,
  base: Block | undefined,
  calculation: CompiledCalculation,
  project: Pick<ProjectSource, 'register' | 'registerIncomplete'>,
  collector: Collector,
): Filling {
  const { given, givensFrom = [], without = [] } = block;
  const offers = new Map<string, Offer>();
  const ofBase = (base?.given ?? []).filter(({ origin }) => origin?.kind !== 'register');
  const closed = namesClosed(calculation, given, without);
  const kept = namesClosed(calculation, ofBase, []);
  let complete = true;
  const fail = (): void => {
    complete = false;
  };
  const named = new Map<string, WrittenName>();
  for (const by of givensFrom) {
    const first = named.get(by.name);
    if (first) {
      const related = [{ place: first.place, note: relatedNote('first-written', {}) }];
      collector.error('item-twice', by.place, { item: by.name }, related);
      fail();
      continue;
    }
    named.set(by.name, by);
    const names = offeredBy(by, calculation, project, collector);
    if (!names) fail();
    for (const name of names ?? []) {
      if (closed.has(name)) continue;
      if (kept.has(name)) {
        collector.caution('base-writes-it', by.place, { item: by.name, given: name, base: base!.id });
        continue;
      }
      const other = offers.get(name);
      if (other) {
        const related = [{ place: other.by.place, note: relatedNote('offered-here', { given: name }) }];
        collector.error('offered-twice', by.place, { given: name, items: [other.by.name, by.name] }, related);
        fail();
      } else offers.set(name, { given: name, by });
    }
  }
  if (refuseAlternatives(calculation, offers, collector)) fail();
  return { given: [...given, ...[...offers.values()].map(fill)], complete };
}

/** The givens that nothing fills: written or left out, or an alternative to one that is written. */
function namesClosed(
  { alternatives }: CompiledCalculation,
  given: readonly GivenSource[],
  without: readonly WrittenName[],
): ReadonlySet<string> {
  const written = new Set(given.map(({ name }) => name));
  const others = alternatives.flatMap(({ oneOf }) => (oneOf.some((name) => written.has(name)) ? oneOf : []));
  return new Set([...written, ...without.map(({ name }) => name), ...others]);
}

/** The givens for which an item has a value; undefined where it has none, which is reported. */
function offeredBy(
  { name: item, place }: WrittenName,
  { givens, definition }: CompiledCalculation,
  { register, registerIncomplete }: Pick<ProjectSource, 'register' | 'registerIncomplete'>,
  collector: Collector,
): readonly string[] | undefined {
  const items = itemsOf(register);
  const values = items.get(item);
  if (!values) {
    // What stands in a file that could not be read is not known, and that has been reported.
    if (registerIncomplete) return undefined;
    const whole = register.has(item) ? item.slice(0, item.lastIndexOf('.')) : undefined;
    const nearest = whole ?? nearestName(item, items.keys()) ?? endingAlike(item, items.keys());
    collector.error('unknown-item', place, { item, nearest, isValue: whole !== undefined });
    return undefined;
  }
  const offered = [...values.keys()].filter((name) => givens.has(name));
  if (offered.length > 0) return offered;
  const pairs = [...values.keys()].flatMap((name) => {
    const given = nearestName(name, givens.keys());
    return given === undefined ? [] : [{ name, given }];
  });
  collector.error('item-offers-nothing', place, {
    item,
    calculation: definition.name,
    has: [...values.keys()],
    pairs,
  });
  return undefined;
}

/** The item that is meant by its name without the section: 'SPD1' for 'equipment.SPD1'. */
function endingAlike(item: string, items: Iterable<string>): string | undefined {
  return [...items].find((other) => other.endsWith(`.${item}`));
}

/** Of alternatives exactly one counts; which one, the items must not decide by what else they happen to have. */
function refuseAlternatives(
  { alternatives }: CompiledCalculation,
  offers: ReadonlyMap<string, Offer>,
  collector: Collector,
): boolean {
  let refused = false;
  for (const { oneOf } of alternatives) {
    const [first, second] = oneOf.flatMap((name) => offers.get(name) ?? []);
    if (!first || !second) continue;
    refused = true;
    const names = oneOf.filter((name) => offers.has(name));
    const related = [{ place: first.by.place, note: relatedNote('offered-here', { given: first.given }) }];
    collector.error('offered-alternatives', second.by.place, { names, item: first.by.name }, related);
  }
  return refused;
}

function fill({ given, by: { name: item, place } }: Offer): GivenSource {
  const entry = `${item}.${given}`;
  return {
    name: given,
    namePlace: place,
    value: { type: 'reference', target: entry, place },
    origin: { kind: 'register', entry },
  };
}
