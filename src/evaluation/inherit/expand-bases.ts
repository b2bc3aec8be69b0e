import { type Diagnostic, diagnose, type RelatedPlace } from '../../diagnostics/diagnostic.ts';
import { nearestName } from '../../diagnostics/nearest-name.ts';
import { relatedNote } from '../../diagnostics/related-note.ts';
import type { Block, CalcBlock } from '../../source/note-source.ts';
import { applyBase } from './apply-base.ts';
import type { Replaced } from './inherit-givens.ts';

export interface Expansion {
  /** Every block that could be completed, in the order of the note. */
  readonly blocks: readonly Block[];
  /** By the id of a block: what of its base gave way to an alternative. */
  readonly replaced: ReadonlyMap<string, readonly Replaced[]>;
  /** Blocks that lack what the register was to fill, for a fault that is reported; so does what stands on them. */
  readonly unfilled: ReadonlySet<string>;
  readonly diagnostics: readonly Diagnostic[];
}

/** A block of a known calculation with the givens that the register fills beside its base, and whether it is known what these are. */
export type Fill = (
  block: CalcBlock,
  base: Block | undefined,
) => { readonly block: CalcBlock; readonly complete: boolean };

/** What the blocks of a note are. */
interface Kinds {
  /** Ids of blocks that could not be read, which has been reported. */
  readonly faulty: ReadonlySet<string>;
  /** Ids of what the rows of schedules have in common: nothing else can be based on these. */
  readonly schedules: ReadonlySet<string>;
}

/**
 * Completes every block of a note that is based on another, however long the chain of bases. One whose base is at fault is left
 * out without a word, for the fault is told at the base.
 *
 * @param fill what the register gives to a block, beside what it writes and what its base writes
 */
export function expandBases(blocks: readonly Block[], kinds: Kinds, fill: Fill): Expansion {
  return new BaseExpansion(blocks, kinds, fill).run();
}

class BaseExpansion {
  readonly #blocks: readonly Block[];
  readonly #byId: ReadonlyMap<string, Block>;
  readonly #kinds: Kinds;
  readonly #fill: Fill;
  /** Blocks that are complete; undefined of those that cannot be completed. */
  readonly #complete = new Map<string, Block | undefined>();
  readonly #unfilled = new Set<string>();
  readonly #replaced = new Map<string, readonly Replaced[]>();
  readonly #diagnostics: Diagnostic[] = [];

  constructor(blocks: readonly Block[], kinds: Kinds, fill: Fill) {
    this.#blocks = blocks;
    this.#byId = new Map(blocks.map((block) => [block.id, block]));
    this.#kinds = kinds;
    this.#fill = fill;
  }

  run(): Expansion {
    for (const block of this.#blocks) this.#expand(block);
    return {
      blocks: this.#blocks.flatMap(({ id }) => this.#complete.get(id) ?? []),
      replaced: this.#replaced,
      unfilled: this.#unfilled,
      diagnostics: this.#diagnostics,
    };
  }

  /** Goes up to what is complete or can never be, and completes the blocks on the way down. */
  #expand(first: Block): void {
    const under: CalcBlock[] = [];
    let block: Block | undefined = first;
    while (block && !this.#complete.has(block.id)) {
      if (block.kind === 'formula' || !block.basedOn) {
        this.#complete.set(block.id, block.kind === 'calc' ? this.#filled(block) : block);
        break;
      }
      under.push(block);
      const name: string = block.basedOn.name;
      const base: Block | undefined = this.#kinds.schedules.has(name) ? undefined : this.#byId.get(name);
      const from = base ? under.findIndex(({ id }) => id === base.id) : -1;
      if (from >= 0) this.#refuseCircle(under.slice(from));
      else if (!base) this.#refuseUnknown(block);
      block = from < 0 ? base : undefined;
    }
    for (const one of under.reverse()) {
      if (!this.#complete.has(one.id)) this.#complete.set(one.id, this.#applyBase(one));
    }
  }

  #applyBase(block: CalcBlock): Block | undefined {
    const base = this.#complete.get(block.basedOn!.name);
    if (!base) return undefined;
    if (this.#unfilled.has(base.id)) this.#unfilled.add(block.id);
    const applied = applyBase(block, base, (own) => this.#filled(own, base));
    this.#diagnostics.push(...applied.diagnostics);
    if (applied.replaced.length > 0) this.#replaced.set(block.id, applied.replaced);
    return applied.block;
  }

  #filled(block: CalcBlock, base?: Block): CalcBlock {
    const filled = this.#fill(block, base);
    if (!filled.complete) this.#unfilled.add(block.id);
    return filled.block;
  }

  /** Told once, at the first of its blocks that is met; the places of the others stand beside it. */
  #refuseCircle(circle: readonly CalcBlock[]): void {
    const [first, ...others] = circle;
    const chain = [...circle.map(({ id }) => id), first!.id];
    const related = others.map(
      ({ id, basedOn }): RelatedPlace => ({
        place: basedOn!.place,
        note: relatedNote('based-on', { id, base: basedOn!.name }),
      }),
    );
    this.#diagnostics.push(diagnose('error', 'base-cycle', first!.basedOn!.place, { chain }, related));
    for (const { id } of circle) this.#complete.set(id, undefined);
  }

  #refuseUnknown({ id, basedOn }: CalcBlock): void {
    const { name, place } = basedOn!;
    this.#complete.set(id, undefined);
    const { faulty, schedules } = this.#kinds;
    if (faulty.has(name)) return;
    if (schedules.has(name)) {
      this.#diagnostics.push(diagnose('error', 'base-is-schedule', place, { id: name }));
      return;
    }
    const known = [...this.#byId.keys()].filter((other) => other !== id && !schedules.has(other));
    const data = { id: name, nearest: nearestName(name, known), known };
    this.#diagnostics.push(diagnose('error', 'unknown-base', place, data));
  }
}
