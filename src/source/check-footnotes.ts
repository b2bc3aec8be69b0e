import type { Root } from 'mdast';
import { visit } from 'unist-util-visit';
import { type NoteText, placeOf, placeWithin, writtenText } from './note-text.ts';

/** Reports footnote marks without a text, which would be printed as they stand, and texts that nothing refers to. */
export function checkFootnotes(tree: Root, note: NoteText): void {
  const used = new Set<string>();
  const defined = new Set<string>();
  visit(tree, 'footnoteReference', (node) => {
    used.add(node.identifier);
  });
  visit(tree, (node) => {
    if (node.type === 'footnoteDefinition') {
      const label = node.label ?? node.identifier;
      if (defined.has(node.identifier))
        note.collector.error('footnote-twice', placeOf(node, note), { label });
      else if (!used.has(node.identifier)) {
        note.collector.caution('footnote-unused', placeOf(node, note), { label });
      }
      defined.add(node.identifier);
    }
    if (node.type !== 'text') return;
    for (const match of (writtenText(node, note)?.source ?? '').matchAll(/\\[^\r\n]|\[\^([^[\]\s]+)\]/g)) {
      if (match[1] === undefined) continue;
      const place = placeWithin(node, match.index, match[0].length, note);
      note.collector.error('footnote-undefined', place, { label: match[1] });
    }
  });
}
