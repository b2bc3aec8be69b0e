import type { Place } from '../diagnostics/place.ts';
import type { RelatedNote } from '../diagnostics/related-note.ts';
import type { Aspect, KindWord, VoltageKind } from './voltage-kind.ts';

/** Where one aspect of a kind was settled, for messages. */
export interface KindReason {
  readonly place: Place;
  readonly note: RelatedNote;
}

const ALL_WORDS: Readonly<Record<Aspect, readonly KindWord[]>> = {
  measure: ['peak', 'rms'],
  between: ['phase-earth', 'phase-phase', 'line-neutral'],
};

/**
 * What is known of one aspect of the kind of some value: the words that it can still be. Values of which it is known that they
 * are of one kind share a cell from then on, so that what is learnt of one holds for all.
 */
export class KindCell {
  #possible: readonly KindWord[];
  #reason: KindReason | undefined;
  #joined: KindCell | undefined;

  constructor(possible: readonly KindWord[], reason?: KindReason) {
    this.#possible = possible;
    this.#reason = reason;
  }

  /** The cell that now stands for this one. */
  get root(): KindCell {
    let root: KindCell = this;
    while (root.#joined) root = root.#joined;
    // The way is kept short: a note may take one value through very many blocks.
    if (this !== root) this.#joined = root;
    return root;
  }

  get possible(): readonly KindWord[] {
    return this.root.#possible;
  }

  get reason(): KindReason | undefined {
    return this.root.#reason;
  }

  /** The one word that it is; undefined as long as it can be several. */
  get word(): KindWord | undefined {
    const { possible } = this;
    return possible.length === 1 ? possible[0] : undefined;
  }

  /** Whether both can be the same. */
  agreesWith(other: KindCell): boolean {
    return this.possible.some((word) => other.possible.includes(word));
  }

  /** From now on both are the same; nothing happens where they cannot be. */
  join(other: KindCell): void {
    const [kept, joined] = [this.root, other.root];
    if (kept === joined || !kept.agreesWith(joined)) return;
    // Nothing is learnt where both are known, and each keeps its own reason.
    if (kept.word && joined.word) return;
    const common = kept.#possible.filter((word) => joined.#possible.includes(word));
    if (common.length < kept.#possible.length) kept.#reason = joined.#reason;
    kept.#possible = common;
    joined.#joined = kept;
  }

  /** From now on this and the others are one, of which exactly this is known: what was found of them before. */
  settle(possible: readonly KindWord[], reason: KindReason | undefined, others: readonly KindCell[]): void {
    const kept = this.root;
    kept.#possible = possible;
    kept.#reason = reason;
    for (const { root } of others) if (root !== kept) root.#joined = kept;
  }
}

/** The kind of a value as far as it is known, and open to what will be learnt of it. */
export type KindTerm = Readonly<Record<Aspect, KindCell>>;

export const ASPECTS: readonly Aspect[] = ['measure', 'between'];

/** A term with what is stated; the rest is open. */
export function kindTerm(kind?: VoltageKind, reason?: KindReason): KindTerm {
  return { measure: kindCell('measure', kind, reason), between: kindCell('between', kind, reason) };
}

/** The cell of one aspect of a kind. */
export function kindCell(aspect: Aspect, kind?: VoltageKind, reason?: KindReason): KindCell {
  const word = kind?.[aspect];
  return word ? new KindCell([word], reason) : new KindCell(ALL_WORDS[aspect]);
}

/** The first aspect in which two terms cannot be the same. */
export function contradiction(a: KindTerm, b: KindTerm): Aspect | undefined {
  return ASPECTS.find((aspect) => !a[aspect].agreesWith(b[aspect]));
}

/** From now on both terms are one, in every aspect in which they can be. */
export function joinTerms(a: KindTerm, b: KindTerm): void {
  for (const aspect of ASPECTS) a[aspect].join(b[aspect]);
}

/** What is known for certain; undefined where nothing is. */
export function knownKind({ measure, between }: KindTerm): VoltageKind | undefined {
  const kind = {
    ...(measure.word ? { measure: measure.word as VoltageKind['measure'] } : {}),
    ...(between.word ? { between: between.word as VoltageKind['between'] } : {}),
  } as VoltageKind;
  return Object.keys(kind).length > 0 ? kind : undefined;
}

/** One aspect of a term in words: 'a peak value', 'a voltage phase to earth or line to neutral'. */
export function describeAspect(aspect: Aspect, cell: KindCell): string {
  if (aspect === 'measure') return cell.word === 'rms' ? 'an r.m.s. value' : 'a peak value';
  return `a voltage ${cell.possible.map((word) => word.replace('-', ' to ')).join(' or ')}`;
}
