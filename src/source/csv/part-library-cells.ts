import { CsvError, parse } from 'csv-parse/sync';
import type { CsvCell, CsvRow, Separator } from './csv-table.ts';
import { LINE_ENDS } from './find-separator.ts';

/** Rows as they stand in a text, of whatever width, and where its quotes fail. */
export interface PartedText {
  readonly rows: readonly CsvRow[];
  /** Where a quote is at fault; reading ends there. */
  readonly fault?: {
    readonly code: 'csv-open-quote' | 'csv-stray-quote';
    readonly start: number;
    readonly end: number;
  };
}

/** Parts a text, whatever stands in it, with the library; see `partCells`. */
export function partLibraryCells(text: string, separator: Separator, most: number): PartedText {
  const places = new Places(text);
  const rows: CsvRow[] = [];
  let cells: CsvCell[] = [];
  try {
    parse(text, {
      delimiter: separator,
      record_delimiter: LINE_ENDS,
      relax_column_count: true,
      max_record_size: 0,
      trim: true,
      to: most,
      cast: (value, { bytes }) => {
        if (cells.length === 0) places.endLine();
        else places.pass(1);
        const start = places.at;
        places.moveTo(bytes);
        cells.push({ text: value.trim(), ...trimmed(text, start, places.at) });
        return undefined;
      },
      on_record: () => {
        rows.push({ line: places.lineOf(cells[0]!.start), cells });
        cells = [];
        return null;
      },
    });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const isFirst = cells.length === 0;
    if (isFirst) places.endLine();
    else places.pass(1);
    return { rows, fault: faultOf(error.code, text, places.at) };
  }
  return { rows };
}

/** A quoted cell is not closed, goes on behind its quote, or a quote stands within a cell that has none around it. */
function faultOf(code: string, text: string, start: number): NonNullable<PartedText['fault']> {
  const line = /^[^\r\n]*/.exec(text.slice(start))![0];
  if (code === 'CSV_QUOTE_NOT_CLOSED') return { code: 'csv-open-quote', start, end: start + line.length };
  const cell = /^\s*"(?:[^"]|"")*"/.exec(text.slice(start))?.[0];
  const quote = cell === undefined ? text.indexOf('"', start) : start + cell.length - 1;
  return { code: 'csv-stray-quote', start: quote, end: quote + 1 };
}

/** Where a cell begins and ends without the blanks around it. */
export function trimmed(text: string, start: number, end: number): Pick<CsvCell, 'start' | 'end'> {
  const written = text.slice(start, end);
  const from = start + written.length - written.trimStart().length;
  return { start: Math.min(from, end), end: Math.max(from, start + written.trimEnd().length) };
}

/** Goes through a text cell by cell: the parser counts bytes of UTF-8, places count characters. */
class Places {
  /** In UTF-16 units. */
  at = 0;
  readonly #text: string;
  #bytes = 0;
  #line = 1;
  /** Up to where lines are counted. */
  #counted = 0;

  constructor(text: string) {
    this.#text = text;
  }

  /** Passes characters of one byte. */
  pass(count: number): void {
    this.at += count;
    this.#bytes += count;
  }

  /** Passes the end of a line that stands here, if one does. */
  endLine(): void {
    const here = this.#text.charCodeAt(this.at);
    if (here === RETURN) this.pass(this.#text.charCodeAt(this.at + 1) === FEED ? 2 : 1);
    else if (here === FEED) this.pass(1);
  }

  /** Goes on to where so many bytes are passed. */
  moveTo(bytes: number): void {
    while (this.#bytes < bytes) {
      const code = this.#text.codePointAt(this.at)!;
      this.#bytes += code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
      this.at += code < 0x10000 ? 1 : 2;
    }
  }

  /** The line of a place that does not lie before the last one asked for. */
  lineOf(place: number): number {
    for (; this.#counted < place; this.#counted += 1) {
      const here = this.#text.charCodeAt(this.#counted);
      const isReturn = here === RETURN && this.#text.charCodeAt(this.#counted + 1) !== FEED;
      if (here === FEED || isReturn) this.#line += 1;
    }
    return this.#line;
  }
}

const RETURN = 0x0d;
const FEED = 0x0a;
