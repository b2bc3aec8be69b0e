import { type Diagnostic, diagnose, type RelatedPlace } from '../../diagnostics/diagnostic.ts';
import type { Place } from '../../diagnostics/place.ts';
import { relatedNote } from '../../diagnostics/related-note.ts';
import { contentKey } from '../../memory/content-key.ts';
import type { Replaced } from './inherit-givens.ts';

export interface Inheritor {
  /** The id of the base. */
  readonly base: string;
  /** Where the block, or the row, says that it stands on a base. */
  readonly at: Place;
  /** Whether a place is one of its own text. */
  readonly isOwn: (place: Place) => boolean;
  readonly replaced: readonly Replaced[];
  /** What is told of the base itself. */
  readonly toldOfBase: readonly Diagnostic[];
}

/**
 * What is to be told of a block on a base. What is told of the base already is left out; what concerns a value that is taken over, and is wrong
 * here alone, stands where the base is named, with the place where the value is written beside it.
 */
export function placeInherited(diagnostics: readonly Diagnostic[], inheritor: Inheritor): Diagnostic[] {
  const told = new Set(inheritor.toldOfBase.map((one) => contentKey(one)));
  return diagnostics
    .filter((one) => !told.has(contentKey(one)))
    .map((one) => explainReplaced(moved(one, inheritor), inheritor));
}

function moved(diagnostic: Diagnostic, { base, at, isOwn }: Inheritor): Diagnostic {
  const { severity, code, data, place, related = [] } = diagnostic;
  if (isOwn(place)) return diagnostic;
  const from: RelatedPlace = { place, note: relatedNote('inherited-from', { id: base }) };
  if (code === 'unused-given') {
    const { name } = data as { readonly name: string };
    return diagnose(severity, 'unused-inherited', at, { name, base }, [from]);
  }
  return { severity, code, data, place: at, related: [from, ...related] };
}

/** A given that is missing because it gave way says so. */
function explainReplaced(diagnostic: Diagnostic, { replaced }: Inheritor): Diagnostic {
  if (replaced.length === 0) return diagnostic;
  const { name, names = [] } = diagnostic.data as { name?: string; names?: readonly string[] };
  const missing = diagnostic.code === 'no-alternative' ? names : [name];
  if (diagnostic.code !== 'no-alternative' && diagnostic.code !== 'missing-given') return diagnostic;
  const related = replaced
    .filter((one) => missing.includes(one.name))
    .map(
      (one): RelatedPlace => ({
        place: one.by.namePlace,
        note: relatedNote('gave-way', { name: one.name, to: one.by.name }),
      }),
    );
  return related.length === 0
    ? diagnostic
    : { ...diagnostic, related: [...(diagnostic.related ?? []), ...related] };
}
