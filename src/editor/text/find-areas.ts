import { TextLines } from '../../diagnostics/text-lines.ts';
import { OPENING_LINE } from '../../source/block-fence.ts';
import { type BlockKind, isBlockKind } from '../../source/block-kinds.ts';
import { cutFrontMatter } from '../../source/cut-front-matter.ts';

/** A fenced stretch of a note, or its front matter, as its lines show it, whatever state the rest is in. */
export interface TextArea {
  readonly type: 'front matter' | 'block' | 'code';
  /** Of a block of ours. */
  readonly kind?: BlockKind;
  /** From the first character of the opening line. */
  readonly start: number;
  /** Where the opening line ends. */
  readonly openingEnd: number;
  /** What stands behind the opening fence. */
  readonly info: { readonly start: number; readonly end: number };
  /** What stands between the lines that open and close it. */
  readonly content: { readonly start: number; readonly end: number };
  readonly closed: boolean;
}

const FENCE = /^([ \t>]*(?:(?:[-*+]|\d+[.)])[ \t]+)*)(`{3,}|~{3,}(?!~))([^`]*)$/;

/**
 * The fenced stretches of a note in the order of its text. It goes by lines alone, for the text is being typed: a block whose fence is not
 * closed ends where the next one opens, or with the text.
 */
export function findAreas(text: string): TextArea[] {
  return new AreaFinder(text).find();
}

/** The area in which an offset lies, its opening line included; undefined in prose. */
export function areaAt(areas: readonly TextArea[], offset: number): TextArea | undefined {
  return areas.find(({ start, content }) => start <= offset && offset <= content.end);
}

interface OpenFence {
  readonly line: number;
  readonly marks: string;
  readonly info: string;
  readonly infoStart: number;
}

class AreaFinder {
  readonly #lines: TextLines;
  readonly #areas: TextArea[] = [];
  #open: OpenFence | undefined;

  constructor(text: string) {
    this.#lines = new TextLines(text);
  }

  find(): TextArea[] {
    const { lines } = this.#lines;
    for (let index = this.#takeFrontMatter(); index < lines.length; index += 1)
      this.#read(lines[index]!, index);
    if (this.#open) this.#end(lines.length, false);
    return this.#areas;
  }

  /** The line behind the front matter. */
  #takeFrontMatter(): number {
    const found = cutFrontMatter(this.#lines);
    if (!found) return 0;
    const info = { start: this.#endOf(0), end: this.#endOf(0) };
    const content = { start: this.#lines.startOf(1), end: this.#endOf(found.end - 1) };
    const openingEnd = info.end;
    this.#areas.push({ type: 'front matter', start: 0, openingEnd, info, content, closed: found.closed });
    return found.closed ? found.end + 1 : found.end;
  }

  #read(line: string, index: number): void {
    const open = this.#open;
    if (!open) {
      this.#openFence(line, index);
      return;
    }
    const marks = /^[ \t>]*(`{3,}|~{3,})[ \t]*$/.exec(line)?.[1];
    if (marks && marks[0] === open.marks[0] && marks.length >= open.marks.length) {
      this.#end(index, true);
      return;
    }
    const inner = OPENING_LINE.exec(line)?.[1];
    if (inner === undefined || inner[0] !== open.marks[0] || inner.length < open.marks.length) return;
    this.#end(index, false);
    this.#openFence(line, index);
  }

  #openFence(line: string, index: number): void {
    const fence = FENCE.exec(line);
    if (!fence) return;
    const [, before, marks, info] = fence as unknown as [string, string, string, string];
    const infoStart = this.#lines.startOf(index) + before.length + marks.length;
    this.#open = { line: index, marks, info, infoStart };
  }

  #end(line: number, closed: boolean): void {
    const { line: first, info, infoStart } = this.#open!;
    this.#open = undefined;
    const [language, word] = info.trim().split(/[ \t]+/);
    const kind = /^ya?ml$/i.test(language ?? '') && isBlockKind(word ?? '') ? (word as BlockKind) : undefined;
    const start = first + 1 < line ? this.#lines.startOf(first + 1) : this.#endOf(first);
    this.#areas.push({
      type: kind ? 'block' : 'code',
      ...(kind ? { kind } : {}),
      start: this.#lines.startOf(first),
      openingEnd: this.#endOf(first),
      info: { start: infoStart, end: infoStart + info.trimEnd().length },
      content: { start, end: Math.max(start, this.#endOf(line - 1)) },
      closed,
    });
  }

  #endOf(line: number): number {
    return this.#lines.startOf(line) + (this.#lines.lines[line]?.length ?? 0);
  }
}
