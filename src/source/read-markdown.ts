import type { Root, RootContent } from 'mdast';
import type { Node, Point } from 'unist';
import { visit } from 'unist-util-visit';
import type { Memory } from '../memory/memory.ts';
import { cutMarkdown } from './cut-markdown.ts';
import { parseMarkdown } from './parse-markdown.ts';
import { readFencedCode } from './read-fenced-code.ts';

/**
 * Parses the markdown of a note piece by piece, so that after an edit only the pieces with another text are parsed.
 *
 * **Invariant:** the tree is that of `parseMarkdown`, node by node with its positions, and nobody else holds it.
 *
 * @param memory holds the pieces that were parsed before
 */
export function readMarkdown(text: string, memory: Memory): Root {
  const pieces = cutMarkdown(text);
  // A byte order mark counts only at the beginning of what is parsed.
  if (pieces.length < 2 || text.startsWith('\uFEFF')) return parseMarkdown(text);
  const labels = labelsIn(pieces, memory);
  const parsed = pieces.map((piece, index) => {
    const isLast = index === pieces.length - 1;
    return readCodePiece(piece) ?? recallPiece(piece, piece.includes('[') ? labels : '', isLast, memory);
  });
  return join(parsed) ?? parseMarkdown(text);
}

/** The nodes of a piece, with positions that count from before the piece. */
interface ParsedPiece {
  readonly nodes: readonly RootContent[];
  /** Where the piece begins and ends in the text that was parsed. */
  readonly start: Point;
  readonly end: Point;
}

/** A heading without words: it ends every paragraph, and nothing but code, formulas and HTML that were not closed takes it in. */
const MARK = '#\n';

/**
 * The definitions of links and footnotes in a text, as lines that define the same labels: they decide in every piece what is a
 * reference. What is a definition does not rest on others, so that each piece can be asked by itself.
 */
function labelsIn(pieces: readonly string[], memory: Memory): string {
  const footnotes = new Set<string>();
  const links = new Set<string>();
  for (const [index, piece] of pieces.entries()) {
    if (!piece.includes(']:') || readFencedCode(piece)) continue;
    const parsed = recallPiece(piece, '', index === pieces.length - 1, memory);
    visit({ type: 'root', children: [...(parsed?.nodes ?? [])] } satisfies Root, (node) => {
      if (node.type === 'footnoteDefinition') footnotes.add(node.identifier);
      if (node.type === 'definition') links.add(node.identifier);
    });
  }
  return [
    ...[...footnotes].sort().map((label) => `[^${label}]: x\n\n`),
    ...[...links].sort().map((label) => `[${label}]: x\n\n`),
  ].join('');
}

/** A piece that is code between fences, without the parser; undefined where it is, or may be, something else. */
function readCodePiece(piece: string): ParsedPiece | undefined {
  const read = readFencedCode(piece);
  return read && { nodes: [read.code], start: { line: 1, column: 1, offset: 0 }, end: read.end };
}

function recallPiece(
  piece: string,
  labels: string,
  isLast: boolean,
  memory: Memory,
): ParsedPiece | undefined {
  const content = `${isLast ? 'last' : 'followed'}\n${labels}\n${piece}`;
  return memory.recall('markdown', content, () => parsePiece(piece, labels, isLast));
}

/**
 * Parses a piece as it stands between others, with the definitions before it and a mark on both sides; undefined where something
 * runs on over its end, or a label cannot be written again.
 */
function parsePiece(piece: string, labels: string, isLast: boolean): ParsedPiece | undefined {
  const before = labels === '' ? '' : `${labels}${MARK}`;
  const end = before.length + piece.length;
  const root = parseMarkdown(`${before}${piece}${isLast ? '' : MARK}`);
  const nodes = [...root.children];
  const mark = isLast ? undefined : nodes.pop();
  if (!isLast && !(mark?.type === 'heading' && mark.position?.start.offset === end)) return undefined;
  const defined = nodes.filter((node) => node.position!.start.offset! < before.length);
  if (!definesAll(defined, labels)) return undefined;
  return {
    nodes: nodes.slice(defined.length),
    start: { line: before.split('\n').length, column: 1, offset: before.length },
    end: mark ? mark.position!.start : root.position!.end,
  };
}

/** Whether what was read before a piece are the definitions that were written there, each by itself, and the mark. */
function definesAll(nodes: readonly RootContent[], labels: string): boolean {
  if (labels === '') return nodes.length === 0;
  const written = nodes.slice(0, -1).map((node) => {
    if (node.type === 'footnoteDefinition') return `[^${node.identifier}]: x\n\n`;
    return node.type === 'definition' ? `[${node.identifier}]: x\n\n` : '';
  });
  return written.join('') === labels && nodes.at(-1)?.type === 'heading';
}

/** The tree of all pieces; undefined where one of them cannot stand by itself. */
function join(parsed: readonly (ParsedPiece | undefined)[]): Root | undefined {
  const children: RootContent[] = [];
  let at: Point = { line: 1, column: 1, offset: 0 };
  for (const part of parsed) {
    if (!part) return undefined;
    const lines = at.line - part.start.line;
    const offset = at.offset! - part.start.offset!;
    for (const node of part.nodes) children.push(copyMoved(node, lines, offset));
    at = movePoint(part.end, lines, offset);
  }
  return { type: 'root', children, position: { start: { line: 1, column: 1, offset: 0 }, end: at } };
}

/** A copy of a value of a tree, down to its leaves, so many lines and characters further on. */
function copyMoved<Value>(value: Value, lines: number, offset: number): Value {
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) return value.map((one) => copyMoved(one, lines, offset)) as Value;
  const copy: Record<string, unknown> = {};
  for (const [key, inner] of Object.entries(value)) {
    copy[key] = key === 'position' ? movePosition(inner, lines, offset) : copyMoved(inner, lines, offset);
  }
  return copy as Value;
}

function movePosition(position: Node['position'], lines: number, offset: number): Node['position'] {
  if (!position) return position;
  return {
    start: movePoint(position.start, lines, offset),
    end: movePoint(position.end, lines, offset),
  };
}

function movePoint({ line, column, offset }: Point, lines: number, by: number): Point {
  return { line: line + lines, column, offset: offset! + by };
}
