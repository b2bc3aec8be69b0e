import type { NoteBlockNode } from 'mdast';
import { visit } from 'unist-util-visit';
import { splitLines } from '../diagnostics/text-lines.ts';
import type { NoteSource } from '../source/note-source.ts';
import type { TextChange } from './comparison.ts';
import { diffLines } from './diff-lines.ts';

/** A paragraph, list item, row of a table or line of code, with the heading under which it stands. */
interface TextUnit {
  readonly section: string;
  readonly text: string;
  /** Where it begins, counted from 1. */
  readonly line: number;
}

const FRONT_MATTER = 'front matter';

/**
 * What changed in the text of a note beside its blocks: by paragraph, so that breaking lines anew changes nothing. A
 * block that is in both states stands in the text as its new id: one that moved to another place is seen.
 */
export function compareText(
  before: NoteSource | undefined,
  after: NoteSource | undefined,
  renamed: ReadonlyMap<string, string>,
): TextChange[] {
  return diffUnits(before, after, renamed).map(({ unit: { section, text }, state }) => ({
    section,
    state,
    text,
  }));
}

/** The lines of the new state, counted from 1, at which a piece of text begins that the old one does not have. */
export function addedLines(
  before: NoteSource,
  after: NoteSource,
  renamed: ReadonlyMap<string, string>,
): ReadonlySet<number> {
  const added = diffUnits(before, after, renamed).filter(({ state }) => state === 'added');
  return new Set(added.map(({ unit }) => unit.line));
}

function diffUnits(
  before: NoteSource | undefined,
  after: NoteSource | undefined,
  renamed: ReadonlyMap<string, string>,
): readonly { readonly unit: TextUnit; readonly state: TextChange['state'] }[] {
  const shared = sharedBlocks(before, after, renamed);
  const old = before ? readUnits(before, (id) => shared.get(id)) : [];
  const ids = new Set(shared.values());
  const fresh = after ? readUnits(after, (id) => (ids.has(id) ? id : undefined)) : [];
  const lines = diffLines(
    old.map(({ text }) => text),
    fresh.map(({ text }) => text),
  );
  return lines.flatMap(({ kind, at }) =>
    kind === 'same' ? [] : [{ unit: (kind === 'removed' ? old : fresh)[at - 1]!, state: kind }],
  );
}

/** Old id -> new id of the blocks that are in both states. */
function sharedBlocks(
  before: NoteSource | undefined,
  after: NoteSource | undefined,
  renamed: ReadonlyMap<string, string>,
): ReadonlyMap<string, string> {
  const ids = new Set(after?.blocks.map(({ id }) => id));
  const pairs = (before?.blocks ?? []).map(({ id }): [string, string] => [id, renamed.get(id) ?? id]);
  return new Map(pairs.filter(([, id]) => ids.has(id)));
}

/** `nameOf` gives the words for a block in its place; undefined leaves it out. */
function readUnits(note: NoteSource, nameOf: (id: string) => string | undefined): TextUnit[] {
  const lines = splitLines(note.text.replace(/^\uFEFF/, ''));
  const blocks = new Map<number, NoteBlockNode>();
  visit(note.tree, 'noteBlock', (node: NoteBlockNode) => {
    if (node.position) blocks.set(node.position.start.line, node);
  });
  const reader = new UnitReader();
  let index = readFrontMatter(lines, reader);
  while (index < lines.length) {
    const block = blocks.get(index + 1);
    if (!block) {
      reader.readLine(lines[index]!, index + 1);
      index += 1;
      continue;
    }
    const name = block.block === undefined ? undefined : nameOf(block.block);
    reader.flush();
    if (name !== undefined) reader.put(`[calculation ${name}]`, index + 1);
    index = block.position!.end.line;
  }
  reader.flush();
  return reader.units;
}

/** The line behind the front matter, counted from 0. */
function readFrontMatter(lines: readonly string[], reader: UnitReader): number {
  if (lines[0]?.trimEnd() !== '---') return 0;
  const end = lines.findIndex((line, i) => i > 0 && line.trimEnd() === '---');
  for (const [i, line] of lines.slice(1, end).entries())
    if (line.trim() !== '') reader.put(line.trimEnd(), i + 2);
  return end + 1;
}

class UnitReader {
  readonly units: TextUnit[] = [];
  #section = FRONT_MATTER;
  #paragraph: string[] = [];
  #start = 0;
  /** The fence that ends the code in which the reader is. */
  #fence: string | undefined;

  put(text: string, line: number): void {
    this.units.push({ section: this.#section, text, line });
  }

  flush(): void {
    if (this.#paragraph.length > 0)
      this.put(this.#paragraph.join(' ').replace(/\s+/g, ' ').trim(), this.#start);
    this.#paragraph = [];
  }

  readLine(line: string, at: number): void {
    const fence = /^\s*(`{3,}|~{3,})/.exec(line)?.[1];
    if (this.#fence !== undefined || fence) {
      this.flush();
      if (line.trim() !== '') this.put(line.trimEnd(), at);
      if (this.#fence === undefined) this.#fence = fence;
      else if (fence?.startsWith(this.#fence) && line.trim() === fence) this.#fence = undefined;
      return;
    }
    const heading = /^ {0,3}#{1,6}\s(.*)$/
      .exec(line)?.[1]
      ?.trim()
      .replace(/(?<!\S)#+$/, '')
      .trimEnd();
    if (heading !== undefined) {
      this.flush();
      this.#section = heading;
      this.put(line.trim(), at);
    } else if (line.trim() === '') this.flush();
    else {
      // Items and rows stand for themselves: one more of them does not change the others.
      if (/^\s*(?:[-*+]|\d+[.)])\s|^\s*\|/.test(line)) this.flush();
      if (this.#paragraph.length === 0) this.#start = at;
      this.#paragraph.push(line);
    }
  }
}
