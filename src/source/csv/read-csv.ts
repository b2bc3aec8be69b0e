import type { Collector } from '../../diagnostics/collector.ts';
import type { Place } from '../../diagnostics/place.ts';
import { startOf } from '../../diagnostics/place.ts';
import { relatedNote } from '../../diagnostics/related-note.ts';
import { findMergeConflict } from '../find-merge-conflict.ts';
import { type CsvCell, type CsvRow, type CsvTable, placeOfCell } from './csv-table.ts';
import { findSeparator } from './find-separator.ts';
import { partCells } from './part-cells.ts';

export const MOST_ROWS = 100_000;
export const MOST_COLUMNS = 200;

/**
 * Reads a table as office programs write it: with or without byte order mark, any ends of lines, semicolons, tabs or commas between
 * the cells. Blank rows and columns at its end do not count. Everything that is wrong with it is reported at its row and column;
 * undefined where there is something. What a cell must hold is for others to say.
 *
 * @param file relative to the project, with forward slashes
 */
export function readCsv(file: string, text: string, collector: Collector): CsvTable | undefined {
  const content = text.replace(/^\uFEFF/, '');
  collector.keepText(file, content);
  const reader = new CsvReader(file, content, collector);
  return reader.read();
}

class CsvReader {
  readonly #file: string;
  readonly #text: string;
  readonly #collector: Collector;
  #failed = false;

  constructor(file: string, text: string, collector: Collector) {
    this.#file = file;
    this.#text = text;
    this.#collector = collector;
  }

  read(): CsvTable | undefined {
    if (!this.#isReadable()) return undefined;
    const separator = findSeparator(this.#text);
    const { rows: written, fault } = partCells(this.#text, separator, MOST_ROWS + 2);
    if (fault) this.#fail(fault.code, { file: this.#file, start: fault.start, end: fault.end });
    const [header, ...rows] = withoutBlankEnds(written);
    if (!header) {
      if (!fault) this.#fail('csv-empty', startOf(this.#file));
      return undefined;
    }
    if (rows.length === 0 && !fault) this.#fail('csv-without-rows', this.#placeOfRow(header));
    if (rows.length > MOST_ROWS) {
      this.#collector.error('csv-too-long', this.#placeOfRow(rows[MOST_ROWS]!), { most: MOST_ROWS });
      return undefined;
    }
    const width = widthOf(header, rows);
    if (width > MOST_COLUMNS) {
      this.#collector.error('csv-too-wide', this.#placeOfRow(header), { width, most: MOST_COLUMNS });
      return undefined;
    }
    const names = this.#readHeader(header, rows, width);
    const whole = rows.flatMap((row) => this.#readRow(row, names) ?? []);
    return this.#failed ? undefined : { file: this.#file, separator, header: names, rows: whole };
  }

  #isReadable(): boolean {
    const nul = this.#text.indexOf('\0');
    if (nul >= 0) this.#fail('csv-nul', { file: this.#file, start: nul, end: nul + 1 });
    else if (findMergeConflict(this.#file, this.#text, this.#collector)) this.#failed = true;
    return !this.#failed;
  }

  /** Columns without a name and without content do not count, wherever they stand. */
  #readHeader({ cells }: CsvRow, rows: readonly CsvRow[], width: number): readonly CsvCell[] {
    const first = new Map<string, CsvCell>();
    const names = Array.from({ length: Math.min(width, cells.length) }, (_, i) => cells[i]!);
    for (const [i, cell] of names.entries()) {
      const before = first.get(cell.text);
      if (cell.text === '') {
        const held = rows.find((row) => isFilled(row.cells[i]));
        if (held) this.#fail('csv-nameless-column', this.#placeOf(held.cells[i]!));
      } else if (before) {
        this.#collector.error('csv-doubled-column', this.#placeOf(cell), { name: cell.text }, [
          { place: this.#placeOf(before), note: relatedNote('first-written', {}) },
        ]);
        this.#failed = true;
      } else first.set(cell.text, cell);
    }
    return names;
  }

  #readRow(row: CsvRow, header: readonly CsvCell[]): CsvRow | undefined {
    const { cells, line } = row;
    if (!cells.some(isFilled)) return this.#fail('csv-blank-row', this.#placeOfRow(row));
    const beyond = cells.slice(header.length).find(isFilled);
    if (beyond || cells.length < header.length) {
      const place = beyond ? this.#placeOf(beyond) : this.#placeOfRow(row);
      const data = { cells: cells.length, header: header.length };
      this.#collector.error(beyond ? 'csv-long-row' : 'csv-short-row', place, data);
      this.#failed = true;
      return undefined;
    }
    return cells.length === header.length ? row : { line, cells: cells.slice(0, header.length) };
  }

  #fail(code: PlainFault, place: Place): undefined {
    this.#failed = true;
    this.#collector.error(code, place, {});
    return undefined;
  }

  #placeOf(cell: CsvCell): Place {
    return placeOfCell({ file: this.#file }, cell);
  }

  #placeOfRow({ cells }: CsvRow): Place {
    return { file: this.#file, start: cells[0]!.start, end: cells.at(-1)!.end };
  }
}

type PlainFault =
  | 'csv-empty'
  | 'csv-without-rows'
  | 'csv-nul'
  | 'csv-open-quote'
  | 'csv-stray-quote'
  | 'csv-nameless-column'
  | 'csv-blank-row';

function isFilled(cell: CsvCell | undefined): boolean {
  return cell !== undefined && cell.text !== '';
}

function withoutBlankEnds(rows: readonly CsvRow[]): readonly CsvRow[] {
  const isBlank = ({ cells }: CsvRow) => !cells.some(isFilled);
  const first = rows.findIndex((row) => !isBlank(row));
  return first < 0 ? [] : rows.slice(first, rows.findLastIndex((row) => !isBlank(row)) + 1);
}

/** The number of columns without those at the end that have neither name nor content. */
function widthOf(header: CsvRow, rows: readonly CsvRow[]): number {
  const named = header.cells.findLastIndex(isFilled) + 1;
  // What lies beyond the header is told of its row.
  return rows.reduce((width, { cells }) => {
    for (let i = header.cells.length - 1; i >= width; i -= 1) if (isFilled(cells[i])) return i + 1;
    return width;
  }, named);
}
