import { visit } from 'unist-util-visit';
import { calculationOfPiece } from '../project/block-names.ts';
import type { Reading } from '../project/reading.ts';
import { findAreas } from '../text/find-areas.ts';

/** A heading or a block of a note, with what stands below it. */
export interface OutlineItem {
  readonly name: string;
  readonly detail?: string | undefined;
  readonly is: 'heading' | 'block';
  readonly start: number;
  readonly end: number;
  readonly nameEnd: number;
  readonly items: OutlineItem[];
}

/** Headings and blocks of a note as a tree. */
export function outlineOf(reading: Reading, path: string): readonly OutlineItem[] {
  const note = reading.noteOf(path);
  const text = reading.textOf(path);
  if (!note || text === undefined) return [];
  const flat: { readonly depth: number; readonly item: OutlineItem }[] = [];
  visit(note.tree, 'heading', ({ depth, position }) => {
    const [start, end] = [position?.start.offset ?? 0, position?.end.offset ?? 0];
    const name = nameOfHeading(text.slice(start, end)) || '(no words)';
    flat.push({ depth, item: { name, is: 'heading', start, end: text.length, nameEnd: end, items: [] } });
  });
  for (const piece of note.pieces) {
    const { kind, head, start } = piece;
    const name = head.id?.text || kind;
    const detail = calculationOfPiece(reading, path, piece)?.definition.name ?? (head.id ? kind : undefined);
    const end = start + piece.text.length;
    flat.push({ depth: 7, item: { name, detail, is: 'block', start, end, nameEnd: end, items: [] } });
  }
  return nest(flat.sort((a, b) => a.item.start - b.item.start));
}

/** Without the marks before and behind it, or the line below it. */
function nameOfHeading(written: string): string {
  const [first = '', ...below] = written.split(/\r?\n(?=[=-]+$)/);
  if (!first.startsWith('#')) return [first, ...below.slice(0, -1)].join('\n');
  return first
    .replace(/^#+/, '')
    .trim()
    .replace(/(?<!\S)#+$/, '')
    .trimEnd();
}

function nest(flat: readonly { readonly depth: number; readonly item: OutlineItem }[]): OutlineItem[] {
  const top: OutlineItem[] = [];
  const open: { readonly depth: number; item: OutlineItem; readonly list: OutlineItem[] }[] = [];
  for (const { depth, item } of flat) {
    while (open.length > 0 && open.at(-1)!.depth >= depth) close(open.pop()!, item.start);
    const list = open.at(-1)?.item.items ?? top;
    list.push(item);
    open.push({ depth, item, list });
  }
  while (open.length > 0) close(open.pop()!, undefined);
  return top;
}

/** A heading reaches to where the next one of its depth begins. */
function close(
  { item, list }: { readonly item: OutlineItem; readonly list: OutlineItem[] },
  end: number | undefined,
): void {
  if (item.is === 'heading' && end !== undefined) list[list.indexOf(item)] = { ...item, end };
}

/** Stretches that can be folded: front matter, blocks and other fenced code. */
export function foldsOf(
  reading: Reading,
  path: string,
): readonly { readonly start: number; readonly end: number }[] {
  const text = reading.textOf(path);
  if (text === undefined || !path.endsWith('.md')) return [];
  return findAreas(text).map(({ start, content }) => ({ start, end: content.end }));
}
