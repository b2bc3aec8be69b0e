import type { Definition, Image, ImageReference, Link, Parents, ProseValueNode, Root, Text } from 'mdast';
import { visit } from 'unist-util-visit';
import type { ProseValue } from './note-source.ts';
import { type NoteText, placeOf, placeWithin, writtenText } from './note-text.ts';
import { reportMalformed } from './read-text-with-values.ts';
import { isReferenceTarget } from './reference-target.ts';

/** The values in the prose, in the order of the text; braces that are not one are reported. */
export function readProseValues(tree: Root, note: NoteText): ProseValue[] {
  const values: ProseValue[] = [];
  visit(tree, (node, _, parent) => {
    switch (node.type) {
      case 'proseValue':
        readOne(node, values, note);
        break;
      case 'text':
        checkBraces(node, parent, note);
        break;
      case 'image':
      case 'imageReference':
      case 'link':
      case 'definition':
        checkAttributes(node, note);
        break;
    }
  });
  return values;
}

function readOne(node: ProseValueNode, values: ProseValue[], note: NoteText): void {
  const written = writtenText(node, note)?.source ?? '';
  if (!isReferenceTarget(node.target)) {
    reportMalformed(node.target, written, placeOf(node, note), note.collector);
    return;
  }
  const place = placeWithin(node, Math.max(0, written.indexOf(node.target)), node.target.length, note);
  values.push({ target: node.target, place });
}

/** Braces that stayed text: not closed, not opened. A backslash before the first makes a pair ordinary characters. */
function checkBraces(node: Text, parent: Parents | undefined, note: NoteText): void {
  const written = writtenText(node, note);
  // Text that was split around an address has no position; then there are no escapes to be told apart either.
  const source = written?.source ?? node.value;
  let escaped = 0;
  for (const match of source.matchAll(/\\[^\r\n]|\{\{|\}\}/g)) {
    if (match[0] === '\\{') escaped += 1;
    if (match[0].startsWith('\\')) continue;
    if (match[0] === '}}' && escaped > 0) {
      escaped = 0;
      continue;
    }
    const place = written ? placeWithin(node, match.index, 2, note) : placeOf(parent, note);
    note.collector.error(match[0] === '{{' ? 'braces-unclosed' : 'braces-unopened', place, {});
  }
}

/** Places of a link or image where text is not parsed further. */
function checkAttributes(node: Image | ImageReference | Link | Definition, note: NoteText): void {
  const place = placeOf(node, note);
  const report = (where: string) => note.collector.error('prose-value-misplaced', place, { where });
  if (node.type === 'image' || node.type === 'imageReference') {
    // The description is plain text already: what stood in braces has gone from it.
    const description = /^!\[([^\]]*)\]/.exec(writtenText(node, note)?.source ?? '')?.[1];
    if (description?.includes('{{')) report('the description of an image');
  }
  if ('title' in node && node.title?.includes('{{')) report('a title');
  if ('url' in node && /\{\{|%7B%7B/i.test(node.url)) report('an address');
}
