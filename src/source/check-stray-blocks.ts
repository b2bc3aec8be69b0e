import type { InlineCode, Root } from 'mdast';
import { visit } from 'unist-util-visit';
import { splitLines } from '../diagnostics/text-lines.ts';
import { OPENING_LINE } from './block-fence.ts';
import { BLOCK_KINDS, isBlockKind, seemingKind } from './block-kinds.ts';
import { type NoteText, placeOf, writtenText } from './note-text.ts';

/**
 * Reports what has the keys of a block and is none to markdown: lines without a fence, code within a line, and the inside of
 * a formula that was not closed. It would be printed, and its verdict would be missing without a word.
 */
export function checkStrayBlocks(tree: Root, note: NoteText): void {
  visit(tree, (node) => {
    if (node.type === 'paragraph' || node.type === 'heading') {
      const inline = node.children.some((child) => child.type === 'inlineCode' && kindWithin(child, note));
      const kind = inline ? undefined : seemingKind(writtenText(node, note)?.source ?? '', 'as text');
      if (kind) note.collector.error('block-without-fence', placeOf(node, note), { kind });
    }
    if (node.type === 'inlineCode') {
      const kind = kindWithin(node, note);
      if (kind) note.collector.error('block-in-line', placeOf(node, note), { kind });
    }
    if (node.type === 'math') {
      const source = writtenText(node, note)?.source ?? '';
      const lines = splitLines(source);
      if (lines.length < 2 || !lines.at(-1)!.trimEnd().endsWith('$$') || OPENING_LINE.test(source)) {
        note.collector.error('unclosed-math', placeOf(node, note), {});
      }
    }
    if (node.type === 'footnoteDefinition') {
      visit(node, 'noteBlock', (block) => {
        note.collector.error('block-in-footnote', placeOf(block, note), {});
      });
    }
  });
}

const NAMED = new RegExp(`^\\s*ya?ml\\s+(${BLOCK_KINDS.join('|')})\\b`, 'i');

function kindWithin(node: InlineCode, note: NoteText) {
  const named = NAMED.exec(node.value)?.[1]?.toLowerCase();
  const source = writtenText(node, note)?.source ?? '';
  const lines = splitLines(source);
  if (lines.length < 2) return undefined;
  return named !== undefined && isBlockKind(named)
    ? named
    : seemingKind(lines.slice(1).join('\n'), 'as text');
}
