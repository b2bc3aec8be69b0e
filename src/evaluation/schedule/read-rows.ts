import type { Collector } from '../../diagnostics/collector.ts';
import { nearestName } from '../../diagnostics/nearest-name.ts';
import type { Place } from '../../diagnostics/place.ts';
import { relatedNote } from '../../diagnostics/related-note.ts';
import { type CsvCell, type CsvRow, type CsvTable, placeOfCell } from '../../source/csv/csv-table.ts';
import { type DecimalSign, withPoint } from '../../source/csv/decimal-signs.ts';
import type { Block, BlockCase, GivenSource } from '../../source/note-source.ts';
import { BLOCK_CASES } from '../../source/read-case.ts';
import { withUnit } from './column-unit.ts';
import type { GivenColumn, MappedColumns } from './map-columns.ts';
import { WORST } from './worst-row.ts';

/** A row of a table as the givens of a calculation. */
export interface RowSource {
  /** The line of the file on which it begins. */
  readonly line: number;
  readonly id: string;
  /** The cell that names it, else its first. */
  readonly place: Place;
  readonly case?: BlockCase;
  readonly group?: string;
  /** What its cells give: each with the cell for its place. An empty cell gives nothing. */
  readonly given: readonly GivenSource[];
  /** Where a given would stand whose cell is empty. */
  readonly absent: ReadonlyMap<string, Place>;
  /** A cell of it is at fault, which is reported. */
  readonly faulty: boolean;
}

const LONGEST_ID = 80;
/** Office programs make days of numbers, and write days so: 01.02 may be the second of January, the first of February, or 1.02. */
const DAY_LIKE = /^[+\-−]?0\d/;

/**
 * Reads the rows of a table one by one, so that what was read of one need not be kept. What a cell's text means is for the reader of the
 * given; what is wrong with the cell as such is reported.
 */
export class RowReader {
  readonly #table: CsvTable;
  readonly #columns: MappedColumns;
  readonly #sign: DecimalSign;
  readonly #collector: Collector;
  /** What a block of own formulas declares of its givens goes with their values. */
  readonly #declared: ReadonlyMap<string, Omit<GivenSource, 'value'>>;
  readonly #ids = new Map<string, Place>();
  readonly #fileName: string;

  constructor(
    table: CsvTable,
    columns: MappedColumns,
    sign: DecimalSign,
    common: Block,
    collector: Collector,
  ) {
    this.#table = table;
    this.#columns = columns;
    this.#sign = sign;
    this.#collector = collector;
    this.#declared = new Map(common.given.map((given) => [given.name, withoutValue(given)]));
    this.#fileName = table.file.split('/').at(-1)!;
  }

  /** @param index of the row in the table; each is read once */
  read(index: number): RowSource {
    const { line, cells }: CsvRow = this.#table.rows[index]!;
    const { givens, rowId, case: caseAt, group: groupAt } = this.#columns;
    const named = rowId === undefined ? undefined : cells[rowId]!;
    const place = placeOfCell(this.#table, named ?? cells[0]!);
    const id = named?.text ?? `${index + 1}`;
    let faulty = named !== undefined && !this.#claim(id, place);
    const absent = new Map<string, Place>();
    const given: GivenSource[] = [];
    for (const column of givens) {
      const cell = cells[column.index]!;
      const at = placeOfCell(this.#table, cell);
      const value = cell.text === '' ? undefined : this.#readCell(column, cell.text, at);
      if (cell.text === '') absent.set(column.given.name, at);
      else if (value === undefined) faulty = true;
      else given.push(this.#givenOf(column, value, at, id));
    }
    const ofCase = caseAt === undefined ? undefined : this.#caseOf(cells[caseAt]!);
    if (ofCase === 'unknown') faulty = true;
    const group = groupAt === undefined ? '' : cells[groupAt]!.text;
    return {
      line,
      id,
      place,
      ...(ofCase && ofCase !== 'unknown' ? { case: ofCase } : {}),
      ...(group === '' ? {} : { group }),
      given,
      absent,
      faulty,
    };
  }

  #claim(id: string, place: Place): boolean {
    const first = this.#ids.get(id);
    if (id === '') this.#collector.error('row-without-id', place, {});
    else if (id.length > LONGEST_ID) this.#collector.error('row-id-too-long', place, { most: LONGEST_ID });
    else if (id === WORST) this.#collector.error('row-id-reserved', place, { id });
    else if (first) {
      const related = [{ place: first, note: relatedNote('first-used', {}) }];
      this.#collector.error('doubled-row-id', place, { id }, related);
    } else {
      this.#ids.set(id, place);
      return true;
    }
    return false;
  }

  #readCell({ given, unit, source }: GivenColumn, text: string, place: Place): string | undefined {
    if (given.definition.type !== 'quantity') return text;
    if (DAY_LIKE.test(text)) {
      this.#collector.error('day-like-number', place, {
        text,
        number: text.replace(/^([+\-−]?)0+(?=\d)/, '$1'),
      });
      return undefined;
    }
    const written = withPoint(text, this.#sign);
    if (!unit) return written;
    const whole = withUnit(written, source.column.name, unit);
    if (whole.ok) return whole.text;
    this.#collector.problem(whole.problem, place);
    return undefined;
  }

  #givenOf({ given: { name } }: GivenColumn, text: string, place: Place, id: string): GivenSource {
    return {
      ...this.#declared.get(name)!,
      namePlace: place,
      value: { type: 'scalar', text, place },
      source: `${this.#fileName}, ${id}`,
    };
  }

  #caseOf({ text, ...cell }: CsvCell): BlockCase | 'unknown' | undefined {
    if (text === '') return undefined;
    const known = BLOCK_CASES.find((one) => one === text);
    if (known) return known;
    const nearest = nearestName(text, BLOCK_CASES);
    const place = placeOfCell(this.#table, { text, ...cell });
    this.#collector.error('unknown-case', place, { text, nearest, known: BLOCK_CASES });
    return 'unknown';
  }
}

function withoutValue({ value: _, range: __, plusMinus: ___, source: ____, ...declared }: GivenSource) {
  return declared;
}
