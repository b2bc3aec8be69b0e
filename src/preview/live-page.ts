import { PART_MARK, type PagePart } from '../page/live-parts.ts';
import { diffLines } from '../review/diff-lines.ts';

/** Parts that take the place of others: `at` and `removed` count in the page that is renewed, whose head is part 0. */
export interface PartChange {
  readonly at: number;
  readonly removed: number;
  readonly parts: readonly string[];
}

/** How a page that somebody has becomes the present one. Changes stand in the order of the page; none overlaps another. */
export type PageUpdate =
  | { readonly kind: 'same' }
  | { readonly kind: 'parts'; readonly changes: readonly PartChange[] }
  /** The page must be loaded again. */
  | { readonly kind: 'whole' };

/** So many earlier states can be renewed part by part. */
const KEPT_STATES = 12;

/** Parts that only open or close an element around others: these cannot be exchanged. */
const IS_FRAME = /^\s*<\/?(?:main|div)(?: class="[\w -]*")?>\s*$/;

/** The page of one note through its states, for readers who have any of them. */
export class LivePage {
  #parts: readonly PagePart[] = [];
  /** The same number for the same content. */
  #ids: readonly number[] = [];
  #nextId = 0;
  #revision = 0;
  /** The contents of the last states by their revision. */
  readonly #states = new Map<number, readonly number[]>();

  /** The one at which it became what it is. */
  get revision(): number {
    return this.#revision;
  }

  /** The whole of it, with marks between its parts. */
  get html(): string {
    return this.#parts.map(({ html }) => html).join(PART_MARK);
  }

  get parts(): readonly PagePart[] {
    return this.#parts;
  }

  /** Gives it another content. */
  renew(parts: readonly PagePart[], revision: number): void {
    this.#ids = this.#identify(parts);
    this.#parts = parts;
    this.#revision = revision;
    this.#states.set(revision, this.#ids);
    for (const old of [...this.#states.keys()].slice(0, -KEPT_STATES)) this.#states.delete(old);
  }

  /** What a reader needs who has the page of that revision; of a revision that is not known all of it. */
  since(revision: number): PageUpdate {
    const before = this.#states.get(revision);
    if (!before) return { kind: 'whole' };
    const changes = this.#changesFrom(before);
    if (changes.length === 0) return { kind: 'same' };
    const isWhole = changes.some(
      ({ at, removed, parts }) =>
        at === 0 || removed === before.length || parts.some((part) => IS_FRAME.test(part)),
    );
    return isWhole ? { kind: 'whole' } : { kind: 'parts', changes };
  }

  #identify(parts: readonly PagePart[]): readonly number[] {
    const known = new Map<string, number>();
    const isAlike = parts.length === this.#parts.length;
    if (!isAlike) for (const [i, { html }] of this.#parts.entries()) known.set(html, this.#ids[i]!);
    return parts.map(({ html }, i) => {
      if (isAlike && html === this.#parts[i]!.html) return this.#ids[i]!;
      const id = known.get(html);
      if (id !== undefined) return id;
      this.#nextId += 1;
      return this.#nextId;
    });
  }

  #changesFrom(before: readonly number[]): PartChange[] {
    const after = this.#ids;
    if (before.length === after.length) {
      return after.flatMap((id, at) =>
        id === before[at] ? [] : [{ at, removed: 1, parts: [this.#parts[at]!.html] }],
      );
    }
    const changes: { at: number; removed: number; parts: string[] }[] = [];
    let at = 0;
    let open: (typeof changes)[number] | undefined;
    for (const line of diffLines(before.map(String), after.map(String))) {
      if (line.kind === 'same') {
        open = undefined;
        at += 1;
        continue;
      }
      if (!open) {
        open = { at, removed: 0, parts: [] };
        changes.push(open);
      }
      if (line.kind === 'removed') {
        open.removed += 1;
        at += 1;
      } else open.parts.push(this.#parts[line.at - 1]!.html);
    }
    return changes;
  }
}
