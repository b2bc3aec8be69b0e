import type { Place } from '../../diagnostics/place.ts';
import { isReferenceTarget, readOtherNoteTarget } from '../../source/reference-target.ts';
import { entriesAt, pieceOf } from '../project/block-names.ts';
import { numberedNotes, type Reading } from '../project/reading.ts';
import { listSites, type Site } from './list-sites.ts';

/** Something that has a name. */
export type Named =
  | { readonly is: 'block'; readonly note: string; readonly id: string }
  | { readonly is: 'value'; readonly note: string; readonly id: string; readonly name: string }
  | { readonly is: 'entry'; readonly entry: string }
  | { readonly is: 'item'; readonly item: string };

/** A stretch of a file. */
export interface Stretch {
  readonly path: string;
  readonly start: number;
  readonly end: number;
}

/** A name with the stretch in which it is written. */
export interface WrittenNamed extends Stretch {
  readonly named: Named;
  /** The whole reference, where it is part of one. */
  readonly target?: string;
}

/** What is named at an offset of a note. */
export function namedAt(reading: Reading, path: string, offset: number): WrittenNamed | undefined {
  for (const site of listSites(reading, path)) {
    if (offset < site.start || offset > site.end) continue;
    const parts = partsOf(reading, site);
    // Between two parts the one that begins there counts.
    return parts.findLast(({ start, end }) => start <= offset && offset <= end) ?? parts[0];
  }
  return undefined;
}

/** What a site names: a block and, where it is a reference to a value, that value. */
export function partsOf(reading: Reading, site: Site): WrittenNamed[] {
  const { path, start, end, text, is } = site;
  if (is === 'item') return [{ path, start, end, named: { is: 'item', item: text } }];
  if (is !== 'target') return [{ path, start, end, named: { is: 'block', note: path, id: text } }];
  if (!isReferenceTarget(text)) return [];
  const other = readOtherNoteTarget(text);
  const note = other ? numberedNotes(reading).find(({ number }) => number === other.number)?.path : path;
  if (note === undefined) return [];
  const local = other?.local ?? text;
  const id = local.slice(0, local.indexOf('.'));
  if (!pieceOf(reading, note, id)) {
    return other ? [] : [{ path, start, end, named: { is: 'entry', entry: text }, target: text }];
  }
  const idStart = end - local.length;
  const name = local.slice(id.length + 1);
  return [
    { path, start: idStart, end: idStart + id.length, named: { is: 'block', note, id }, target: text },
    { path, start: idStart + id.length + 1, end, named: { is: 'value', note, id, name }, target: text },
  ];
}

function isSame(one: Named, other: Named): boolean {
  return JSON.stringify(one) === JSON.stringify(other);
}

/** Where something is written down: the id of a block, a given or a step of one, an entry or an item of the register. */
export function definitionOf(reading: Reading, named: Named): Stretch | undefined {
  switch (named.is) {
    case 'block':
      return blockDefinition(reading, named.note, named.id);
    case 'value':
      return valueDefinition(reading, named) ?? blockDefinition(reading, named.note, named.id);
    case 'entry': {
      const place = reading.project?.register.get(named.entry)?.place;
      return place && { path: place.file, start: place.start, end: place.end };
    }
    case 'item': {
      const entries = [...(reading.project?.register.values() ?? [])];
      const place = entries.find(({ path }) => path.startsWith(`${named.item}.`))?.place;
      return place && { path: place.file, start: place.start, end: place.end };
    }
  }
}

function blockDefinition(reading: Reading, path: string, id: string): Stretch | undefined {
  const piece = pieceOf(reading, path, id);
  return piece?.head.id && stretchOf(piece.head.id.place, path, piece.start);
}

/** A given where it is written; a step or check where the block is the engineer's own. */
function valueDefinition(
  reading: Reading,
  { note, id, name }: Extract<Named, { is: 'value' }>,
): Stretch | undefined {
  const piece = pieceOf(reading, note, id);
  if (!piece) return undefined;
  const own = name.replace(/^limiting\./, '');
  const entries = ['given', 'steps', 'checks', 'columns'].flatMap((key) => entriesAt(piece.content, key));
  const entry = entries.find(({ key }) => key === own || own.endsWith(`.${key}`));
  return entry && stretchOf(entry.keyPlace, note, piece.start);
}

function stretchOf({ start, end }: Place, path: string, shift: number): Stretch {
  return { path, start: start + shift, end: end + shift };
}

/** Every stretch of the project in which something is named. */
export function findMentions(reading: Reading, named: Named): WrittenNamed[] {
  return [...reading.notes, ...reading.submittals].flatMap((path) =>
    listSites(reading, path)
      .flatMap((site) => partsOf(reading, site))
      .filter((part) => isSame(part.named, named)),
  );
}
