import type { Root } from 'mdast';
import { visit } from 'unist-util-visit';
import { nearestName } from '../diagnostics/nearest-name.ts';
import { narrow, type Place } from '../diagnostics/place.ts';
import { type NoteText, placeWithin, writtenText } from './note-text.ts';
import type { ScalarNode, SourceNode } from './source-node.ts';

/** Ids of the items that a note lists; undefined where a list is at fault, so that it is not known what it lists. */
export interface ListedIds {
  readonly assumptions: Iterable<string> | undefined;
  readonly holds: Iterable<string> | undefined;
}

const ID = '[A-Za-z]{1,4}-?\\d{1,3}[a-z]?';
const JOINT = '\\s*(?:,|;|&|/|–|-|,?\\s+(?:and|or|to))\\s*';
/** What every mention has in it: asked first, for most texts have none. */
const MAY_MENTION = /assum|hold|open/i;
const NO_MENTION: readonly Mention[] = [];
/** Words that can only mean an item of the note, with the ids behind them; '... of note 004' means one of another. */
const MENTION = new RegExp(
  `\\b(assumptions?|holds?|open points?)\\s+(${ID}(?:${JOINT}${ID})*)(?![\\w-])(?!\\s+(?:of|in|from)\\s)`,
  'gi',
);

/**
 * Reports words such as 'assumption A9', in the prose and in the texts of blocks, where the note lists no such item: a value
 * would rest on an assumption that nobody can read.
 */
export function checkMentions(
  tree: Root,
  blocks: readonly SourceNode[],
  listed: ListedIds,
  note: NoteText,
): void {
  const ids = {
    assumption: listed.assumptions && [...listed.assumptions],
    'open point': listed.holds && [...listed.holds],
  };
  const check = (text: string, placeAt: (index: number, length: number) => Place): void => {
    for (const { what, id, index, isVerb } of mentionsIn(text)) {
      const known = ids[what];
      if (!known) continue;
      if (isVerb && !known.some((one) => prefixOf(one) === prefixOf(id))) continue;
      if (known.some((one) => one.toLowerCase() === id.toLowerCase())) continue;
      const nearest = known.length > 8 ? nearestName(id, known) : undefined;
      note.collector.error('item-not-listed', placeAt(index, id.length), { what, id, known, nearest });
    }
  };
  visit(tree, 'text', (node) => {
    const written = writtenText(node, note);
    if (written) check(written.source, (index, length) => placeWithin(node, index, length, note));
  });
  for (const { text, place } of blocks.flatMap(scalarsIn)) {
    check(text, (index, length) => narrow(place, { start: index, end: index + length }, text.length));
  }
}

/** A word such as 'assumption A9' in a text. */
export interface Mention {
  readonly what: 'assumption' | 'open point';
  readonly id: string;
  readonly index: number;
  /** 'holds' is a verb as well: 'the clamp holds M12' mentions nothing that has another form than the items of the note. */
  readonly isVerb: boolean;
}

function prefixOf(id: string): string {
  return id.replace(/\d.*$/, '').toLowerCase();
}

/** The items of a note of which a text speaks; those of another note are not among them. */
export function mentionsIn(text: string): readonly Mention[] {
  if (!MAY_MENTION.test(text)) return NO_MENTION;
  return [...text.matchAll(MENTION)].flatMap((match) => {
    const what = /^a/i.test(match[1]!) ? 'assumption' : 'open point';
    const isVerb = /^h/i.test(match[1]!);
    const from = match.index + match[0].length - match[2]!.length;
    return [...match[2]!.matchAll(new RegExp(`(?<![\\w-])${ID}`, 'g'))].map(
      (id): Mention => ({ what, id: id[0], index: from + id.index, isVerb }),
    );
  });
}

function scalarsIn(node: SourceNode): ScalarNode[] {
  if (node.type === 'scalar') return [node];
  if (node.type === 'list') return node.items.flatMap(scalarsIn);
  return node.type === 'map' ? node.entries.flatMap(({ value }) => scalarsIn(value)) : [];
}
