import type { Place } from './place.ts';

const LINE_END = /\r\n|\n|\r/g;

export function splitLines(text: string): string[] {
  return text.split(/\r\n|\n|\r/);
}

/** The same text with every line ended by one line feed: for digests, which must not depend on the system. */
export function unifyLineEnds(text: string): string {
  return text.replace(LINE_END, '\n');
}

/** The same text with its lines ended by line feeds, the last one by one alone. */
export function unifyEnd(text: string): string {
  const unified = unifyLineEnds(text);
  let end = unified.length;
  // By steps: a pattern would look from each line feed within the text to the end of its run.
  while (unified[end - 1] === '\n') end -= 1;
  return `${unified.slice(0, end)}\n`;
}

/** A text by its lines, which count from 0 here. */
export class TextLines {
  readonly text: string;
  /** The lines without their ends. */
  readonly lines: readonly string[];
  /** The offset at which each line begins. */
  readonly #starts: readonly number[];

  constructor(text: string) {
    this.text = text;
    this.lines = splitLines(text);
    this.#starts = [0, ...Array.from(text.matchAll(LINE_END), (end) => end.index + end[0].length)];
  }

  /** The offset at which a line begins; behind the last line that of the last one. */
  startOf(line: number): number {
    return this.#starts[Math.min(line, this.#starts.length - 1)]!;
  }

  /** The line in which an offset lies. */
  lineAt(offset: number): number {
    let low = 0;
    let high = this.#starts.length - 1;
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if (this.#starts[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  /** The place of a whole line of a file of which this is the text. */
  placeOf(file: string, line: number): Place {
    const start = this.startOf(line);
    return { file, start, end: start + this.lines[line]!.length };
  }
}
