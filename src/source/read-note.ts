import type { Root } from 'mdast';
import type { Collector } from '../diagnostics/collector.ts';
import { startOf } from '../diagnostics/place.ts';
import { TextLines } from '../diagnostics/text-lines.ts';
import { isTooDense } from './check-density.ts';
import { checkFootnotes } from './check-footnotes.ts';
import { checkLinks } from './check-links.ts';
import { checkStrayBlocks } from './check-stray-blocks.ts';
import { findMergeConflict } from './find-merge-conflict.ts';
import { mapPlaces } from './map-places.ts';
import type { FrontMatter, NoteSource } from './note-source.ts';
import { type NoteText, noteText } from './note-text.ts';
import { parseMarkdown } from './parse-markdown.ts';
import { readBlocks } from './read-blocks.ts';
import { blankFrontMatter, readFrontMatter } from './read-front-matter.ts';
import { readImages } from './read-images.ts';
import { readProseValues } from './read-prose-values.ts';
import { readYaml } from './read-yaml.ts';
import { refuseHtml } from './refuse-html.ts';

const LONGEST_NOTE = 4_000_000;

/**
 * Reads a note. Everything that is wrong with it is put into the collector, and reading goes on. Undefined where there is
 * nothing to go on with: an empty file, an unresolved merge, a text that cannot be parsed.
 */
export function readNote(path: string, text: string, collector: Collector): NoteSource | undefined {
  const content = text.replace(/^\uFEFF/, '');
  collector.keepText(path, content);
  if (content.trim() === '') {
    collector.error('empty-note', startOf(path), {});
    return undefined;
  }
  if (content.length > LONGEST_NOTE) {
    collector.error('text-too-long', startOf(path), { limit: LONGEST_NOTE });
    return undefined;
  }
  if (findMergeConflict(path, content, collector) || isTooDeep(path, content, collector)) return undefined;
  if (isTooDense(path, content, collector)) return undefined;
  try {
    return readParts(noteText(path, content, collector), text);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    collector.error('text-too-deep', startOf(path), {});
    return undefined;
  }
}

const DEEPEST = 50;
const CONTAINERS = /^(?:[ \t]*(?:>|[-+*](?=[ \t])|\d{1,9}[.)](?=[ \t])))+/;
const MARK = />|[-+*]|\d{1,9}[.)]/g;
/** A line of marks of one kind across the page. */
const RULE = /^[ \t]*(?:(?:-[ \t]*)+|(?:\*[ \t]*)+)$/;

/** The time that markdown takes grows with the square of the depth and faster: a line of marks could take minutes. */
function isTooDeep(path: string, content: string, collector: Collector): boolean {
  const text = new TextLines(content);
  const deep = text.lines.findIndex((line) => {
    const containers = CONTAINERS.exec(line)?.[0] ?? '';
    if (containers.length <= DEEPEST || RULE.test(line)) return false;
    return (containers.match(MARK)?.length ?? 0) > DEEPEST;
  });
  if (deep < 0) return false;
  collector.error('text-too-deep', text.placeOf(path, deep), {});
  return true;
}

function readParts(note: NoteText, text: string): NoteSource {
  const tree = parseMarkdown(note.text);
  const frontMatter = takeFrontMatter(tree, note);
  const blocks = readBlocks(tree, note);
  checkStrayBlocks(tree, note);
  refuseHtml(tree, note);
  checkLinks(tree, note);
  checkFootnotes(tree, note);
  const images = readImages(tree, note);
  const proseValues = readProseValues(tree, note);
  return { path: note.path, text, frontMatter, tree, ...blocks, proseValues, images };
}

/** Reads the front matter and takes it out of the tree. */
function takeFrontMatter(tree: Root, note: NoteText): FrontMatter {
  const first = tree.children[0];
  const place = note.lines.placeOf(note.path, 0);
  if (first?.type !== 'yaml') {
    reportMissing(note);
    return blankFrontMatter();
  }
  tree.children.shift();
  const places = mapPlaces(note.path, first.value, note.lines, 1);
  const { node, broken } = readYaml(first.value, places, note.collector);
  return broken ? blankFrontMatter() : readFrontMatter(node, place, note.collector);
}

function reportMissing({ path, lines: text, collector }: NoteText): void {
  const { lines } = text;
  if (/^---[ \t]*$/.test(lines[0]!)) {
    collector.error('front-matter-unterminated', text.placeOf(path, 0), {});
    return;
  }
  const opening = lines.findIndex((line) => /^---[ \t]*$/.test(line));
  const keys = lines.slice(opening + 1, opening + 30);
  if (opening > 0 && keys.some((line) => /^(number|revision|status):/.test(line))) {
    collector.error('front-matter-not-first', text.placeOf(path, opening), {});
    return;
  }
  collector.error('front-matter-missing', startOf(path), {});
}
