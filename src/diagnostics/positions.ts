import type { Place } from './place.ts';
import { TextLines } from './text-lines.ts';

/** Where a place stands, for people: line and column count from 1, columns in UTF-16 units. */
export interface Position {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  /** How many characters of that line the place covers; at least 1. */
  readonly length: number;
}

/** The texts of a project as they are now. */
export interface SourceTexts {
  /** The text of a file by its name; undefined where it could not be read. */
  textOf(file: string): string | undefined;
  /** Where a block begins in its note; undefined where there is no such block. */
  startOfPiece(file: string, piece: string): number | undefined;
}

/** Tells lines and columns of places: the edge between what counts offsets and what is shown. */
export class Positions {
  readonly #texts: SourceTexts;
  readonly #lines = new Map<string, TextLines | undefined>();

  constructor(texts: SourceTexts) {
    this.#texts = texts;
  }

  /** Of a place of several lines the part on its first line; of one in a text that is not there the beginning of the file. */
  of(place: Place): Position {
    const { file } = place;
    const lines = this.#linesOf(file);
    if (!lines) return { file, line: 1, column: 1, length: 1 };
    const shift = this.#startOf(place);
    const start = place.start + shift;
    const line = lines.lineAt(start);
    const column = start - lines.startOf(line);
    const end = Math.min(place.end + shift - lines.startOf(line), lines.lines[line]!.length);
    return { file, line: line + 1, column: column + 1, length: Math.max(1, end - column) };
  }

  /** A line, counted from 1; undefined where it is not there. */
  line(file: string, line: number): string | undefined {
    return this.#linesOf(file)?.lines[line - 1];
  }

  #startOf({ file, piece }: Place): number {
    return piece === undefined ? 0 : (this.#texts.startOfPiece(file, piece) ?? 0);
  }

  #linesOf(file: string): TextLines | undefined {
    if (!this.#lines.has(file)) {
      const text = this.#texts.textOf(file)?.replace(/^\uFEFF/, '');
      this.#lines.set(file, text === undefined ? undefined : new TextLines(text));
    }
    return this.#lines.get(file);
  }
}
