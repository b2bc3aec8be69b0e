import type { Code, Html, NoteBlockNode, Parents, Root } from 'mdast';
import { visit } from 'unist-util-visit';
import { Collector } from '../diagnostics/collector.ts';
import { type Place, startOf } from '../diagnostics/place.ts';
import { contentKey } from '../memory/content-key.ts';
import { Memory } from '../memory/memory.ts';
import { isClosed, kindOf, openingFence, readFence, reportBlockInCode } from './block-fence.ts';
import { type BlockKind, hasOwnId } from './block-kinds.ts';
import { cutFrontMatter } from './cut-front-matter.ts';
import { findSwallowing, type Swallowing } from './find-swallowing.ts';
import { isReadable } from './is-readable.ts';
import { mapPlaces, type PlaceMap } from './map-places.ts';
import { type NoteText, noteText, placeOf, writtenText } from './note-text.ts';
import type { FrontMatterPiece, NoteTree, Piece } from './note-tree.ts';
import { readMarkdown } from './read-markdown.ts';
import { readPiece } from './read-piece.ts';
import { readYaml } from './read-yaml.ts';
import { reportHtml } from './refuse-html.ts';

/** So many things that were not closed are passed over; each costs a reading of the markdown. */
const MOST_SWALLOWING = 20;

/**
 * Reads the text of a note, whatever it holds, into its front matter, its prose and its marked blocks.
 *
 * @param memory holds the blocks that were read before: what is read of one with the same text is the same object
 */
export function readNoteTree(path: string, text: string, memory = new Memory()): NoteTree {
  const content = text.replace(/^\uFEFF/, '');
  const collector = new Collector();
  const note = noteText(path, content, collector);
  if (isReadable(path, content, collector)) {
    try {
      return new TreeReader(note, memory).read();
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      collector.error('text-too-deep', startOf(path), {});
    }
  }
  const prose: Root = { type: 'root', children: [] };
  const faults = collector.list();
  return { path, text: content, frontMatter: undefined, prose, pieces: [], faults, unreadable: true };
}

/** A marked block before its YAML is read. */
interface Fenced {
  readonly kind: BlockKind;
  readonly start: number;
  readonly text: string;
  readonly yaml: string;
  readonly closed: boolean;
  /** The line of the opening fence, counted from 0. */
  readonly line: number;
  /** Its node in the tree. */
  readonly node: NoteBlockNode;
}

class TreeReader {
  readonly #note: NoteText;
  readonly #memory: Memory;
  readonly #fenced: Fenced[] = [];

  constructor(note: NoteText, memory: Memory) {
    this.#note = note;
    this.#memory = memory;
  }

  read(): NoteTree {
    const { path, text, collector } = this.#note;
    const front = this.#readFrontMatter();
    const prose = this.#readMarkdown(blank(text, 0, front?.end ?? 0));
    visit(prose, 'code', (code, index, parent) => {
      const kind = readFence(code, this.#note);
      if (kind && index !== undefined && parent) this.#takeCode(kind, code, parent, index);
    });
    const pieces = this.#readPieces();
    const frontMatter = front?.piece;
    return { path, text, frontMatter, prose, pieces, faults: collector.list(), unreadable: false };
  }

  #readFrontMatter(): { readonly piece: FrontMatterPiece; readonly end: number } | undefined {
    const { path, text, lines, collector } = this.#note;
    const found = cutFrontMatter(lines);
    if (!found) return undefined;
    const { closed } = found;
    const isLast = found.end >= lines.lines.length;
    const end = isLast ? text.length : lines.startOf(found.end);
    const yaml = text.slice(lines.startOf(1), end).replace(/(?:\r\n|\n|\r)$/, '');
    const place = lines.placeOf(path, 0);
    if (!closed) collector.error('front-matter-unterminated', place, {});
    const inner = new Collector();
    const reading = readYaml(yaml, mapPlaces(path, yaml, lines, 1), inner, { valuesIn: ['summary'] });
    return {
      piece: {
        place,
        closed,
        content: reading.node,
        broken: reading.broken || !closed,
        faults: closed ? inner.list() : [],
      },
      end: closed ? end + lines.lines[found.end]!.length : end,
    };
  }

  /** The markdown of a text, without what was not closed and would take blocks into it. */
  #readMarkdown(text: string): Root {
    let left = text;
    for (let i = 0; ; i += 1) {
      const tree = readMarkdown(left, this.#memory);
      const found = i < MOST_SWALLOWING ? findSwallowing(tree, { ...this.#note, text: left }) : undefined;
      if (!found) {
        this.#placeCutBlocks(tree);
        return tree;
      }
      this.#reportSwallowing(found);
      left = blank(left, found.start, found.end);
    }
  }

  #reportSwallowing({ node, start, end }: Swallowing): void {
    const note = this.#note;
    const { collector, path, lines, text } = note;
    if (node.type === 'math') collector.error('unclosed-math', placeOf(node, note), {});
    if (node.type === 'html') reportHtml(node as Html, new Set(), note);
    if (node.type !== 'code') return;
    const source = writtenText(node, note)?.source ?? '';
    const fence = openingFence(source) ?? '';
    const place = { file: path, start, end: start + lines.lines[lines.lineAt(start)]!.length };
    const opening = lines.lineAt(end);
    if (isClosed(source, fence)) {
      reportBlockInCode(node as Code, fence, lines.placeOf(path, opening), note);
    } else collector.error('unclosed-fence', place, { fence });
    const { value } = node as Code;
    const line = lines.lineAt(start);
    const yaml = value
      .split(/\r\n|\n|\r/)
      .slice(0, opening - line - 1)
      .join('\n');
    const kind = kindOf({ ...(node as Code), value: yaml }, note);
    if (!kind) return;
    const cut: NoteBlockNode = { type: 'noteBlock', kind, piece: '' };
    this.#fenced.push({ kind, start, text: text.slice(start, end), yaml, closed: false, line, node: cut });
  }

  /** A block that was cut before the next one stands in the tree before what follows it. */
  #placeCutBlocks(tree: Root): void {
    for (const { node, start } of this.#fenced) {
      const index = tree.children.findIndex(({ position }) => (position?.start.offset ?? 0) > start);
      tree.children.splice(index < 0 ? tree.children.length : index, 0, node);
    }
  }

  #takeCode(kind: BlockKind, code: Code, parent: Parents, index: number): void {
    const written = writtenText(code, this.#note);
    if (!written || !code.position) return;
    const { source: text, offset: start } = written;
    const node: NoteBlockNode = { type: 'noteBlock', kind, piece: '', position: code.position };
    const closed = isClosed(text, openingFence(text) ?? '');
    const line = code.position.start.line - 1;
    this.#fenced.push({ kind, start, text, yaml: code.value, closed, line, node });
    parent.children[index] = node;
  }

  #readPieces(): Piece[] {
    const keys = new Set<string>();
    const inOrder = [...this.#fenced].sort((a, b) => a.start - b.start);
    return inOrder.map((fenced) => {
      const key = keyOf(fenced, keys);
      keys.add(key);
      return this.#readPiece(fenced, key);
    });
  }

  #readPiece({ kind, start, text, yaml, closed, line, node }: Fenced, key: string): Piece {
    const { path, lines } = this.#note;
    const place: Place = { file: path, piece: key, start: 0, end: text.length };
    const reading = this.#memory.recall('piece', contentKey([path, key, kind, closed, text, yaml]), () => {
      const places = withinPiece(mapPlaces(path, yaml, lines, line + 1), key, start);
      return readPiece(yaml, closed, places, place);
    });
    const piece: Piece = {
      key,
      kind,
      start,
      text,
      yaml,
      closed,
      place,
      ...reading,
    };
    node.piece = key;
    if (!hasOwnId(kind)) {
      node.items = piece.content.type === 'list' ? piece.content.items.length : 0;
    } else if (piece.head.id) node.block = piece.head.id.text;
    return piece;
  }
}

/** The text with blanks instead of a stretch, so that everything else keeps its place. */
function blank(text: string, start: number, end: number): string {
  return text.slice(0, start) + text.slice(start, end).replace(/[^\r\n]/g, ' ') + text.slice(end);
}

function withinPiece(places: PlaceMap, piece: string, origin: number): PlaceMap {
  return (from, to) => {
    const { file, start, end } = places(from, to);
    return { file, piece, start: start - origin, end: end - origin };
  };
}

const ID = /^id:[ \t]+["']?([^\s"'#]+)/m;

/** The key of a block: it stays when other blocks come and go, as long as the block has an id of its own. */
function keyOf({ kind, yaml }: Fenced, taken: ReadonlySet<string>): string {
  const id = hasOwnId(kind) ? ID.exec(yaml)?.[1] : undefined;
  const name = id === undefined ? kind : `${kind} ${id}`;
  let key = name;
  for (let number = 2; taken.has(key); number += 1) key = `${name} ${number}`;
  return key;
}
