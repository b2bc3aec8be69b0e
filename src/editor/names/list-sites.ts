import type { Definition, Link } from 'mdast';
import { visit } from 'unist-util-visit';
import type { Place } from '../../diagnostics/place.ts';
import { hasOwnId } from '../../source/block-kinds.ts';
import type { NoteSource } from '../../source/note-source.ts';
import type { Piece } from '../../source/note-tree.ts';
import type { SourceNode } from '../../source/source-node.ts';
import { isSubmittalName } from '../../source/submittal-source.ts';
import type { Reading } from '../project/reading.ts';
import { findAreas } from '../text/find-areas.ts';

/** A stretch of a note in which something is named. */
export interface Site {
  readonly path: string;
  /** In the text of the note. */
  readonly start: number;
  readonly end: number;
  readonly text: string;
  /** An id that a block gives itself, that of another block, a reference to a value, or an item of the register. */
  readonly is: 'own id' | 'id' | 'target' | 'item';
}

/** Every place of a note where blocks, their values and entries of the register are named, in the order of the text. */
export function listSites(reading: Reading, path: string): Site[] {
  const text = reading.textOf(path);
  if (text === undefined) return [];
  if (isSubmittalName(path)) return valuesIn(path, text, 0, text.length);
  const note = path.endsWith('.md') ? reading.noteOf(path) : undefined;
  if (!note) return [];
  const front = findAreas(text).find(({ type }) => type === 'front matter');
  const sites = [
    // As they are written: of a summary in which anything is at fault no value is read.
    ...(front ? valuesIn(path, text, front.content.start, front.content.end) : []),
    ...new SiteList(note, text).list(),
  ];
  const unique = new Map(sites.map((site) => [site.start, site]));
  return [...unique.values()].sort((a, b) => a.start - b.start);
}

/** Values in double braces of a YAML text, where only those texts have braces that may hold values. */
function valuesIn(path: string, text: string, from: number, to: number): Site[] {
  const braces = /(?<!\\)\{\{[ \t]*([\w./-]+)[ \t]*\}\}/g;
  return [...text.slice(from, to).matchAll(braces)].map((match) => {
    const start = from + match.index + match[0].indexOf(match[1]!);
    return { path, start, end: start + match[1]!.length, text: match[1]!, is: 'target' };
  });
}

class SiteList {
  readonly #note: NoteSource;
  readonly #text: string;
  readonly #starts: ReadonlyMap<string, number>;
  readonly #sites: Site[] = [];

  constructor(note: NoteSource, text: string) {
    this.#note = note;
    this.#text = text;
    this.#starts = new Map(note.pieces.map(({ key, start }) => [key, start]));
  }

  list(): readonly Site[] {
    for (const piece of this.#note.pieces) this.#readPiece(piece);
    for (const { shows } of this.#note.frontMatter.sheets ?? []) {
      if (shows.kind === 'figure') this.#addWithin(shows.block.place, shows.block.name, 'id');
    }
    for (const { target, place } of this.#note.proseValues) this.#addWithin(place, target, 'target');
    visit(this.#note.tree, (node) => {
      if (node.type === 'link' || node.type === 'definition') this.#readLink(node);
    });
    return this.#sites;
  }

  #readPiece({ kind, content, head }: Piece): void {
    this.#readNode(content);
    if (hasOwnId(kind)) {
      if (head.id) this.#addWithin(head.id.place, head.id.text, 'own id');
      this.#readNames(content, 'based_on', 'id');
      this.#readNames(content, 'givens_from', 'item');
    }
    if (kind === 'comparison') this.#readNames(content, 'of', 'id');
  }

  /** References and formulas, wherever they stand. */
  #readNode(node: SourceNode): void {
    switch (node.type) {
      case 'reference':
        this.#addWithin(node.place, node.target, 'target');
        break;
      case 'formula':
        this.#readFormula(node.place);
        break;
      case 'list':
        for (const item of node.items) this.#readNode(item);
        break;
      case 'map':
        for (const { value } of node.entries) this.#readNode(value);
        break;
    }
  }

  #readFormula(place: Place): void {
    const { start, end } = this.#spanOf(place);
    for (const match of this.#text.slice(start, end).matchAll(/\{\s*([^{}\s]+)\s*\}/g)) {
      const at = start + match.index + match[0].indexOf(match[1]!);
      this.#add(at, match[1]!, 'target');
    }
  }

  #readNames(content: SourceNode, key: string, is: Site['is']): void {
    const value =
      content.type === 'map' ? content.entries.find((entry) => entry.key === key)?.value : undefined;
    const items = value?.type === 'list' ? value.items : value ? [value] : [];
    for (const item of items) if (item.type === 'scalar') this.#addWithin(item.place, item.text.trim(), is);
  }

  /** A link within the note may lead to a block. */
  #readLink({ url, position }: Link | Definition): void {
    const [start, end] = [position?.start.offset, position?.end.offset];
    if (!url.startsWith('#') || start === undefined || end === undefined) return;
    const id = url.slice(1);
    const at = this.#text.slice(start, end).lastIndexOf(url);
    if (at >= 0 && this.#note.pieces.some(({ head }) => head.id?.text === id))
      this.#add(start + at + 1, id, 'id');
  }

  /** The text where it stands within a place; one that escapes or folded lines have changed is not found, and left out. */
  #addWithin(place: Place, text: string, is: Site['is']): void {
    const { start, end } = this.#spanOf(place);
    const written = this.#text.slice(start, end);
    for (let at = written.indexOf(text); at >= 0; at = written.indexOf(text, at + 1)) {
      const isWhole =
        !/[\w/-]/.test(written[at - 1] ?? ' ') && !/[\w-]/.test(written[at + text.length] ?? ' ');
      if (isWhole) this.#add(start + at, text, is);
    }
  }

  #add(start: number, text: string, is: Site['is']): void {
    this.#sites.push({ path: this.#note.path, start, end: start + text.length, text, is });
  }

  #spanOf({ piece, start, end }: Place): { readonly start: number; readonly end: number } {
    const shift = piece === undefined ? 0 : (this.#starts.get(piece) ?? 0);
    return { start: start + shift, end: end + shift };
  }
}
