import { type Sentence, say, type Text } from '../../words/sentence.ts';
import { SOURCES, type SourceKey } from '../sources.ts';

/**
 * How a source is known: its text was read; it was read as another source quotes it; or it is remembered, and must be
 * compared with the text.
 */
export type Knowledge =
  | { readonly by: 'read' }
  | { readonly by: 'quotation'; readonly source: SourceKey; readonly clause: string }
  | { readonly by: 'memory' };

/** On what a formula, value or rule rests. */
export type Basis =
  | {
      readonly kind: 'source';
      readonly source: SourceKey;
      /** Clause, table, equation, example or page, as the source numbers it. */
      readonly clause: string;
      readonly known: Knowledge;
    }
  | { readonly kind: 'common-practice'; readonly note?: string }
  | { readonly kind: 'derivation'; readonly note: string }
  /** The engineer's own, in a `yaml formula` block. */
  | { readonly kind: 'author'; readonly text: Text };

/** A source that was read. */
export function cite(source: SourceKey, clause: string): Basis {
  return { kind: 'source', source, clause, known: { by: 'read' } };
}

/** A source that was read only as another, which was read, quotes it: `at` is the place in that one. */
export function quote(source: SourceKey, clause: string, quotedIn: SourceKey, at: string): Basis {
  return { kind: 'source', source, clause, known: { by: 'quotation', source: quotedIn, clause: at } };
}

/** A source quoted from memory. */
export function recall(source: SourceKey, clause: string): Basis {
  return { kind: 'source', source, clause, known: { by: 'memory' } };
}

export function commonPractice(note?: string): Basis {
  return note === undefined ? { kind: 'common-practice' } : { kind: 'common-practice', note };
}

export function derivation(note: string): Basis {
  return { kind: 'derivation', note };
}

/** A clause with how it is known, where it was not read itself. */
export function sayClause(clause: string, known: Knowledge): Text {
  if (known.by === 'memory') return say('basis.from-memory', { clause });
  if (known.by === 'read') return clause;
  const { designation } = SOURCES[known.source];
  return say('basis.quoted', { clause, in: designation, at: known.clause });
}

/** A basis as it is printed beside a formula. */
export function sayBasis(basis: Basis): Text {
  switch (basis.kind) {
    case 'source': {
      const { designation } = SOURCES[basis.source];
      return say('basis.source', { designation, clause: sayClause(basis.clause, basis.known) });
    }
    case 'common-practice':
      return basis.note === undefined ? PRACTICE : say('basis.common-practice-of', { note: basis.note });
    case 'derivation':
      return say('basis.derived', { note: basis.note });
    case 'author':
      return basis.text;
  }
}

const PRACTICE: Sentence = say('basis.common-practice', {});
