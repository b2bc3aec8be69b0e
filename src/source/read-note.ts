import { Collector } from '../diagnostics/collector.ts';
import { startOf } from '../diagnostics/place.ts';
import { Memory } from '../memory/memory.ts';
import { checkFootnotes } from './check-footnotes.ts';
import { checkLinks } from './check-links.ts';
import { checkStrayBlocks } from './check-stray-blocks.ts';
import type { FrontMatter, NoteSource, PhotoPicture, ProseValue } from './note-source.ts';
import { type NoteText, noteText } from './note-text.ts';
import type { FrontMatterPiece, NoteTree } from './note-tree.ts';
import { valuesOfAction } from './read-action.ts';
import { readBlocks } from './read-blocks.ts';
import { blankFrontMatter, readFrontMatter } from './read-front-matter.ts';
import { readImages } from './read-images.ts';
import { readNoteTree } from './read-note-tree.ts';
import { readProseValues } from './read-prose-values.ts';
import { refuseHtml } from './refuse-html.ts';

/**
 * Reads a note. Everything that is wrong with it is put into the collector, and reading goes on. Undefined where there is
 * nothing to go on with: an empty file, an unresolved merge, a text that cannot be parsed.
 *
 * @param memory holds the blocks that were read before
 */
export function readNote(
  path: string,
  text: string,
  collector: Collector,
  memory = new Memory(),
): NoteSource | undefined {
  const tree = readNoteTree(path, text, memory);
  collector.keepText(path, tree.text, new Map(tree.pieces.map(({ key, start }) => [key, start])));
  for (const fault of tree.faults) collector.add(fault);
  if (tree.unreadable) return undefined;
  try {
    return readParts(tree, text, noteText(path, tree.text, collector), memory);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    collector.error('text-too-deep', startOf(path), {});
    return undefined;
  }
}

function readParts(tree: NoteTree, text: string, note: NoteText, memory: Memory): NoteSource {
  const { path, prose, pieces } = tree;
  const frontMatter = readFrontMatterOf(tree.frontMatter, note);
  const blocks = readBlocks(tree, note, memory);
  checkStrayBlocks(prose, note);
  refuseHtml(prose, note);
  checkLinks(prose, note);
  checkFootnotes(prose, note);
  const written = [...blocks.blocks, ...blocks.schedules.map(({ common }) => common)];
  for (const { action } of written) {
    const { due, duePlace } = action ?? {};
    // A day that was written as none is reported as such.
    if (!due || !duePlace || frontMatter.date === '' || due >= frontMatter.date) continue;
    note.collector.caution('action-due-before-note', duePlace, { due, date: frontMatter.date });
  }
  const images = [
    ...readImages(prose, note),
    ...(frontMatter.sheets ?? []).flatMap(({ shows }) => (shows.kind === 'image' ? [shows] : [])),
    ...blocks.photos.flatMap(({ pictures }) => pictures),
  ].map(({ address, place }) => ({ address, place }));
  const proseValues = [
    ...(frontMatter.summary?.values ?? []),
    ...readProseValues(prose, note),
    ...blocks.photos.flatMap(({ pictures }) => pictures.flatMap(valuesOfCallouts)),
    ...written.flatMap(({ action }) => (action ? valuesOfAction(action) : [])),
  ];
  return { path, text, frontMatter, tree: prose, pieces, ...blocks, proseValues, images };
}

function valuesOfCallouts({ callouts }: PhotoPicture): readonly ProseValue[] {
  return callouts.flatMap(({ given }) => (given ? [given] : []));
}

/** Of one that is broken, what can be read: that it is broken has been said. */
function readFrontMatterOf(piece: FrontMatterPiece | undefined, note: NoteText): FrontMatter {
  if (!piece) {
    reportMissing(note);
    return blankFrontMatter();
  }
  for (const fault of piece.faults) note.collector.add(fault);
  return readFrontMatter(piece.content, piece.place, piece.broken ? new Collector() : note.collector);
}

function reportMissing({ path, lines: text, collector }: NoteText): void {
  const { lines } = text;
  const opening = lines.findIndex((line) => /^---[ \t]*$/.test(line));
  const keys = lines.slice(opening + 1, opening + 30);
  if (opening > 0 && keys.some((line) => /^(number|revision|status):/.test(line))) {
    collector.error('front-matter-not-first', text.placeOf(path, opening), {});
    return;
  }
  collector.error('front-matter-missing', startOf(path), {});
}
