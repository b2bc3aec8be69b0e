import type { Collector } from '../../diagnostics/collector.ts';
import { nearestName } from '../../diagnostics/nearest-name.ts';
import { relatedNote } from '../../diagnostics/related-note.ts';
import type { CompiledCalculation, CompiledGiven } from '../../engine/definition/compiled.ts';
import type { Quantity } from '../../quantity/quantity.ts';
import { type CsvTable, placeOfCell } from '../../source/csv/csv-table.ts';
import type { ColumnSource, ScheduleBlock, WrittenName } from '../../source/note-source.ts';
import { isBare, readColumnUnit, readHeader, sameUnit } from './column-unit.ts';

/** A column whose cells are values of a given. */
export interface GivenColumn {
  readonly given: CompiledGiven;
  readonly source: ColumnSource;
  /** The place of its cells in a row. */
  readonly index: number;
  /** One of its unit, with its kind; undefined where the cells have units, or need none. */
  readonly unit: Quantity | undefined;
}

/** What a schedule takes of a table. */
export interface MappedColumns {
  readonly givens: readonly GivenColumn[];
  readonly rowId: number | undefined;
  readonly case: number | undefined;
  readonly group: number | undefined;
}

/** Finds the columns that a schedule names. Reports every one that is not there, and whose unit does not fit; undefined where any is. */
export function mapColumns(
  schedule: ScheduleBlock,
  table: CsvTable,
  calculation: CompiledCalculation,
  collector: Collector,
): MappedColumns | undefined {
  return new ColumnMapper(schedule, table, calculation, collector).map();
}

class ColumnMapper {
  readonly #schedule: ScheduleBlock;
  readonly #table: CsvTable;
  readonly #calculation: CompiledCalculation;
  readonly #collector: Collector;
  readonly #headers: readonly { readonly text: string; readonly name: string; readonly unit?: string }[];
  #failed = false;

  constructor(
    schedule: ScheduleBlock,
    table: CsvTable,
    calculation: CompiledCalculation,
    collector: Collector,
  ) {
    this.#schedule = schedule;
    this.#table = table;
    this.#calculation = calculation;
    this.#collector = collector;
    this.#headers = table.header.map(({ text }) => ({ text, ...readHeader(text) }));
  }

  map(): MappedColumns | undefined {
    const { rowId, caseColumn, groupBy, columns } = this.#schedule;
    const givens = columns.flatMap((source) => this.#mapGiven(source) ?? []);
    const mapped = {
      givens,
      rowId: this.#find(rowId),
      case: this.#find(caseColumn),
      group: this.#find(groupBy),
    };
    return this.#failed ? undefined : mapped;
  }

  #mapGiven(source: ColumnSource): GivenColumn | undefined {
    const { given: name, givenPlace } = source;
    const { givens, definition } = this.#calculation;
    const given = givens.get(name);
    const index = this.#find(source.column);
    if (!given) {
      const known = [...givens.keys()];
      const nearest = nearestName(name, known);
      this.#failed = true;
      this.#collector.error('unknown-given', givenPlace, {
        name,
        calculation: definition.name,
        nearest,
        known,
      });
      return undefined;
    }
    const { type } = given.definition;
    if (type !== 'quantity' && type !== 'choice') {
      this.#failed = true;
      this.#collector.error('column-not-for-this', givenPlace, { name });
      return undefined;
    }
    if (index === undefined) return undefined;
    return { given, source, index, unit: this.#unitOf(given, source, index) };
  }

  /** The place of a column by its name, with or without the unit in its header. */
  #find(named: WrittenName | undefined): number | undefined {
    if (!named) return undefined;
    const exact = this.#headers.findIndex(({ text }) => text === named.name);
    const found = this.#headers.flatMap(({ name }, i) => (name === named.name ? [i] : []));
    if (exact >= 0) return exact;
    if (found.length === 1) return found[0];
    this.#failed = true;
    const known = this.#headers.filter(({ text }) => text !== '').map(({ name }) => name);
    if (found.length > 1) {
      const places = found.map((i) => ({
        place: placeOfCell(this.#table, this.#table.header[i]!),
        note: relatedNote('column-here', {}),
      }));
      this.#collector.error('column-of-several', named.place, { column: named.name }, places);
    } else {
      const { file } = this.#table;
      const nearest = nearestName(named.name, known);
      this.#collector.error('unknown-table-column', named.place, {
        column: named.name,
        file,
        nearest,
        known,
      });
    }
    return undefined;
  }

  #unitOf(
    given: CompiledGiven,
    { unit: written, column }: ColumnSource,
    index: number,
  ): Quantity | undefined {
    const header = this.#headers[index]!;
    const headerPlace = placeOfCell(this.#table, this.#table.header[index]!);
    const ofBlock = written && this.#readUnit(given, written.name, written.place);
    const ofHeader = header.unit === undefined ? undefined : this.#readUnit(given, header.unit, headerPlace);
    if (ofBlock && ofHeader && !sameUnit(ofBlock.unit, ofHeader.unit)) {
      this.#failed = true;
      const data = { column: header.name, unit: written!.name, header: header.unit! };
      const related = [{ place: headerPlace, note: relatedNote('column-here', {}) }];
      this.#collector.error('units-of-column', written!.place, data, related);
    }
    const unit = ofBlock ?? ofHeader;
    if (!unit && !written && header.unit === undefined) this.#requireUnits(given, column, index);
    return unit;
  }

  #readUnit(given: CompiledGiven, text: string, place: WrittenName['place']): Quantity | undefined {
    const reading = readColumnUnit(given, text);
    if (reading.ok) return reading.value;
    this.#failed = true;
    this.#collector.problem(reading.problem, place);
    return undefined;
  }

  /** Told once of a column of which no cell has a unit; where some have one, each of the others is told. */
  #requireUnits({ name, definition, unit }: CompiledGiven, column: WrittenName, index: number): void {
    if (definition.type !== 'quantity' || unit.text === '1') return;
    const filled = this.#table.rows.map(({ cells }) => cells[index]!).filter(({ text }) => text !== '');
    if (filled.length === 0 || !filled.every(({ text }) => isBare(text))) return;
    this.#failed = true;
    const data = { column: column.name, name, unit: unit.text };
    this.#collector.error('column-without-unit', placeOfCell(this.#table, this.#table.header[index]!), data);
  }
}
