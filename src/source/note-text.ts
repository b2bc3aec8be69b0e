import type { Node } from 'unist';
import type { Collector } from '../diagnostics/collector.ts';
import { type Place, startOf } from '../diagnostics/place.ts';
import { splitLines } from './map-places.ts';

/** The text of a note as its parts are read: places of nodes, and where to report. */
export interface NoteText {
  readonly path: string;
  readonly text: string;
  readonly lines: readonly string[];
  readonly collector: Collector;
}

export function noteText(path: string, text: string, collector: Collector): NoteText {
  return { path, text, lines: splitLines(text), collector };
}

/** The place of a node, or of its first line where it has several. */
export function placeOf(node: Node | undefined, note: NoteText): Place {
  if (!node?.position) return startOf(note.path);
  const { start, end } = node.position;
  const endColumn = end.line === start.line ? end.column : (note.lines[start.line - 1]?.length ?? 0) + 1;
  return {
    file: note.path,
    line: start.line,
    column: start.column,
    length: Math.max(1, endColumn - start.column),
  };
}

/** What the author wrote for a node, and where it begins in the text. */
export function writtenText(node: Node, note: NoteText): { source: string; offset: number } | undefined {
  const [start, end] = [node.position?.start.offset, node.position?.end.offset];
  if (start === undefined || end === undefined) return undefined;
  return { source: note.text.slice(start, end), offset: start };
}

/** The place of a stretch of a node's text as it was written; it must not cross a line. */
export function placeWithin(node: Node, index: number, length: number, note: NoteText): Place {
  const written = writtenText(node, note);
  if (!written || !node.position) return placeOf(node, note);
  const before = splitLines(written.source.slice(0, index));
  const line = node.position.start.line + before.length - 1;
  const last = before.at(-1)!.length;
  const column = before.length === 1 ? node.position.start.column + last : last + 1;
  return { file: note.path, line, column, length: Math.max(1, length) };
}
