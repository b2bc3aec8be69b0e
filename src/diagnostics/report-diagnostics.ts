import type { Diagnostic, Severity } from './diagnostic.ts';
import { type Position, Positions, type SourceTexts } from './positions.ts';
import { wordRelated } from './related-note.ts';
import { wordDiagnostic } from './word-diagnostic.ts';

/** A diagnostic in words, at a line and column. */
export interface ReportedDiagnostic {
  readonly severity: Severity;
  readonly code: string;
  readonly position: Position;
  readonly message: string;
  readonly hint?: string;
  readonly related?: readonly { readonly position: Position; readonly note: string }[];
}

/** Puts diagnostics into words, in the order in which they are given. */
export function reportDiagnostics(
  diagnostics: readonly Diagnostic[],
  texts: SourceTexts,
  positions = new Positions(texts),
): ReportedDiagnostic[] {
  return diagnostics.map((diagnostic) => report(diagnostic, positions));
}

function report(diagnostic: Diagnostic, positions: Positions): ReportedDiagnostic {
  const { severity, code, place, related } = diagnostic;
  return {
    severity,
    code,
    position: positions.of(place),
    ...wordDiagnostic(diagnostic),
    ...(related
      ? {
          related: related.map((other) => ({
            position: positions.of(other.place),
            note: wordRelated(other.note),
          })),
        }
      : {}),
  };
}
