import type { Node } from 'unist';
import type { Collector } from '../diagnostics/collector.ts';
import { type Place, startOf } from '../diagnostics/place.ts';
import { TextLines } from '../diagnostics/text-lines.ts';

/** The text of a note as its parts are read: places of nodes, and where to report. */
export interface NoteText {
  readonly path: string;
  readonly text: string;
  readonly lines: TextLines;
  readonly collector: Collector;
}

export function noteText(path: string, text: string, collector: Collector): NoteText {
  return { path, text, lines: new TextLines(text), collector };
}

/** The place of a node of the tree of a note. */
export function placeOf(node: Node | undefined, { path }: { readonly path: string }): Place {
  const { start, end } = node?.position ?? {};
  if (start?.offset === undefined || end?.offset === undefined) return startOf(path);
  return { file: path, start: start.offset, end: end.offset };
}

/** What the author wrote for a node, and where it begins in the text. */
export function writtenText(node: Node, note: NoteText): { source: string; offset: number } | undefined {
  const [start, end] = [node.position?.start.offset, node.position?.end.offset];
  if (start === undefined || end === undefined) return undefined;
  return { source: note.text.slice(start, end), offset: start };
}

/** The place of a stretch of a node's text as it was written. */
export function placeWithin(node: Node, index: number, length: number, note: NoteText): Place {
  const place = placeOf(node, note);
  return { ...place, start: place.start + index, end: place.start + index + length };
}
