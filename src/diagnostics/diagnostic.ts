import type { Code, DataOf } from './messages.ts';
import { narrow, type Place } from './place.ts';
import type { SourceTexts } from './positions.ts';
import type { Problem } from './problem.ts';
import type { RelatedNote } from './related-note.ts';
import { wordDiagnostic } from './word-diagnostic.ts';

export type Severity = 'error' | 'caution';

/** Another place that explains a diagnostic, and what stands there. */
export interface RelatedPlace {
  readonly place: Place;
  readonly note: RelatedNote;
}

/** One message about the project's source, as data: where and what. Its words are found where it is shown (`reportDiagnostics`). */
export interface Diagnostic {
  readonly severity: Severity;
  readonly code: Code;
  /** What the message names, as the code asks for it in the table of messages. */
  readonly data: object;
  readonly place: Place;
  readonly related?: readonly RelatedPlace[];
}

/** A message of the table at a place. */
export function diagnose<C extends Code>(
  severity: Severity,
  code: C,
  place: Place,
  data: DataOf<C>,
  related?: readonly RelatedPlace[],
): Diagnostic {
  return { severity, code, data, place, ...(related && related.length > 0 ? { related } : {}) };
}

/** Gives a problem its place; `textLength` is the length of the text in which the problem's span counts. */
export function locate(problem: Problem, place: Place, textLength = -1): Diagnostic {
  return diagnose('error', problem.code, narrow(place, problem.span, textLength), problem.data as never);
}

/** Orders diagnostics as a reader meets them: by file and offset; errors first on one spot, then by their words. */
export function byPlace(texts: Pick<SourceTexts, 'startOfPiece'>): (a: Diagnostic, b: Diagnostic) => number {
  const startIn = ({ file, piece, start }: Place): number =>
    piece === undefined ? start : start + (texts.startOfPiece(file, piece) ?? 0);
  return (a, b) => {
    const [p, q] = [a.place, b.place];
    if (p.file !== q.file) return p.file < q.file ? -1 : 1;
    const distance = startIn(p) - startIn(q);
    if (distance !== 0) return distance;
    if (a.severity !== b.severity) return a.severity === 'error' ? -1 : 1;
    const [one, other] = [wordDiagnostic(a).message, wordDiagnostic(b).message];
    return one < other ? -1 : one > other ? 1 : 0;
  };
}

export function hasErrors(diagnostics: readonly Diagnostic[]): boolean {
  return diagnostics.some((d) => d.severity === 'error');
}
