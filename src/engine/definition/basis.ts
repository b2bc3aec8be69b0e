import { SOURCES, type SourceKey } from '../sources.ts';

/** On what a formula, value or rule rests. */
export type Basis =
  | {
      readonly kind: 'source';
      readonly source: SourceKey;
      /** Clause, table, equation, example or page, as the source numbers it. */
      readonly clause: string;
      /** The text was not before the author: the value is quoted from memory and must be checked against it. */
      readonly fromMemory: boolean;
    }
  | { readonly kind: 'common-practice'; readonly note?: string }
  | { readonly kind: 'derivation'; readonly note: string }
  /** The engineer's own, in a `yaml formula` block. */
  | { readonly kind: 'author'; readonly text: string };

/** A source that was read. */
export function cite(source: SourceKey, clause: string): Basis {
  return { kind: 'source', source, clause, fromMemory: false };
}

/** A source quoted from memory. */
export function recall(source: SourceKey, clause: string): Basis {
  return { kind: 'source', source, clause, fromMemory: true };
}

export function commonPractice(note?: string): Basis {
  return note === undefined ? { kind: 'common-practice' } : { kind: 'common-practice', note };
}

export function derivation(note: string): Basis {
  return { kind: 'derivation', note };
}

/** A basis in words, as it is printed beside a formula. */
export function wordBasis(basis: Basis): string {
  switch (basis.kind) {
    case 'source': {
      const name = `${SOURCES[basis.source].designation}, ${basis.clause}`;
      return basis.fromMemory ? `${name} (from memory)` : name;
    }
    case 'common-practice':
      return basis.note ? `common practice: ${basis.note}` : 'common practice';
    case 'derivation':
      return `derived: ${basis.note}`;
    case 'author':
      return basis.text;
  }
}
