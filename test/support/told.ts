import type { Collector } from '../../src/diagnostics/collector.ts';
import type { Diagnostic } from '../../src/diagnostics/diagnostic.ts';
import type { Place } from '../../src/diagnostics/place.ts';
import { type Position, Positions, type SourceTexts } from '../../src/diagnostics/positions.ts';
import { reportDiagnostics } from '../../src/diagnostics/report-diagnostics.ts';
import { TextLines } from '../../src/diagnostics/text-lines.ts';
import { readNoteTree } from '../../src/source/read-note-tree.ts';

/** What a collector holds, as an author is told it: in words, with lines and columns in `place`. */
export function told(collector: Collector) {
  return toldOf(collector.list(), collector);
}

export function toldOf(diagnostics: readonly Diagnostic[], texts: SourceTexts) {
  return reportDiagnostics(diagnostics, texts).map(({ position, related, ...rest }) => ({
    ...rest,
    place: position,
    ...(related ? { related: related.map((other) => ({ place: other.position, note: other.note })) } : {}),
  }));
}

/** One text, whatever the file is called; no blocks in it. */
export function oneText(text: string | undefined): SourceTexts {
  return { textOf: () => text, startOfPiece: () => undefined };
}

/** The text of a note with its blocks, whatever the file is called. */
export function noteTexts(text: string): SourceTexts {
  const { pieces } = readNoteTree('', text);
  return {
    textOf: () => text,
    startOfPiece: (_, piece) => pieces.find(({ key }) => key === piece)?.start,
  };
}

/** The line and column of a place in texts. */
export function positionOf(place: Place, texts: SourceTexts): Position {
  return new Positions(texts).of(place);
}

/** The place that stands at a line and column, both counted from 1. */
export function placeAt(
  text: string,
  { file, line, column, length }: { file: string; line: number; column: number; length: number },
): Place {
  const start = new TextLines(text).startOf(line - 1) + column - 1;
  return { file, start, end: start + length };
}
