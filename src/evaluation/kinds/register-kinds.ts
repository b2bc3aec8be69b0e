import type { Place } from '../../diagnostics/place.ts';
import { relatedNote } from '../../diagnostics/related-note.ts';
import { type KindTerm, kindTerm } from '../../quantity/kind-term.ts';
import { readQuantity } from '../../quantity/read-quantity.ts';
import { hasKind } from '../../quantity/voltage-kind.ts';

/**
 * What is stated of the kinds of register entries, and what is learnt of the others from their uses, through all notes of a
 * run: an entry that does not say of which kind it is can serve as one kind only.
 */
export class RegisterKinds {
  readonly #terms = new Map<string, KindTerm>();

  /** The term of the entry of a path; undefined where it is no voltage or current. */
  termOf(path: string, text: string, place: Place): KindTerm | undefined {
    const known = this.#terms.get(path);
    if (known) return known;
    const reading = readQuantity(text);
    if (!reading.ok || !hasKind(reading.value.unit.dimension)) return undefined;
    const term = kindTerm(reading.value.kind, { place, note: relatedNote('stands-in-register', {}) });
    this.#terms.set(path, term);
    return term;
  }
}
