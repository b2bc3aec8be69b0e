import type { Root } from 'mdast';
import type { Node } from 'unist';
import { EXIT, visit } from 'unist-util-visit';
import { isClosed, OPENING_LINE, openingFence } from './block-fence.ts';
import { type NoteText, writtenText } from './note-text.ts';
import { isComment } from './refuse-html.ts';

/** Something that was not closed and has taken a block of ours into it. */
export interface Swallowing {
  readonly node: Node & { readonly type: string };
  /** Where it begins, and where the line that opens the block does. */
  readonly start: number;
  readonly end: number;
}

/**
 * The first code, formula or HTML of a note that runs on over the line that opens a block, because it was not closed: without
 * that the block is whole. Code that holds such a line between longer fences is no such thing.
 */
export function findSwallowing(tree: Root, note: NoteText): Swallowing | undefined {
  let found: Swallowing | undefined;
  visit(tree, (node) => {
    if (node.type !== 'code' && node.type !== 'math' && node.type !== 'html') return undefined;
    const written = writtenText(node, note);
    const opening = written && openingWithin(written.source);
    if (!opening || !runsOn(node, written.source, opening.fence)) return undefined;
    found = { node, start: written.offset, end: written.offset + opening.index };
    return EXIT;
  });
  return found;
}

/** The first line that opens a block, behind the line with which the text begins. */
function openingWithin(source: string): { readonly index: number; readonly fence: string } | undefined {
  const first = /\r\n|\n|\r/.exec(source);
  if (!first) return undefined;
  const from = first.index + first[0].length;
  const found = OPENING_LINE.exec(source.slice(from));
  return found ? { index: from + found.index, fence: found[1]! } : undefined;
}

function runsOn(node: Swallowing['node'], source: string, inner: string): boolean {
  if (node.type === 'math') return true;
  if (node.type === 'html') return !isComment({ value: source });
  const fence = openingFence(source);
  if (fence === undefined) return false;
  return !isClosed(source, fence) || (inner[0] === fence[0] && inner.length >= fence.length);
}
