import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { relatedNote } from '../diagnostics/related-note.ts';

/** A note or submittal with the number that it has as a document. */
export interface NumberedDocument {
  readonly path: string;
  readonly number: string;
  readonly place: Place;
}

/**
 * Reports the documents of a project that have one number: the register of issues knows each by its own. Of those with one number the first
 * keeps it, unless it is the only one that is asked for.
 *
 * @param documents all of the project
 * @param asked paths of those of which faults are told
 */
export function checkNumbers(
  documents: readonly NumberedDocument[],
  asked: ReadonlySet<string>,
  collector: Collector,
): void {
  const byNumber = new Map<string, NumberedDocument[]>();
  for (const one of documents) {
    const number = foldNumber(one.number);
    const alike = byNumber.get(number);
    if (alike) alike.push(one);
    else byNumber.set(number, [one]);
  }
  for (const [first, ...others] of byNumber.values()) {
    const told = others.filter(({ path }) => asked.has(path));
    for (const one of told) report(one, first!, collector);
    if (told.length === 0 && others[0] && asked.has(first!.path)) report(first!, others[0], collector);
  }
}

function report({ number, place }: NumberedDocument, other: NumberedDocument, collector: Collector): void {
  const related = [{ place: other.place, note: relatedNote('written-here', {}) }];
  const data = { number, file: other.path, other: other.number };
  collector.error('document-number-twice', place, data, related);
}

/** Letters that differ only in case or in how an accent is stored are one number to whoever reads it. */
function foldNumber(number: string): string {
  return number.normalize('NFKC').toLowerCase();
}
