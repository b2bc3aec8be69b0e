import type { Collector } from '../diagnostics/collector.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import type { Place } from '../diagnostics/place.ts';
import { relatedNote } from '../diagnostics/related-note.ts';
import { cellValue, isNumber } from './csv/cell-value.ts';
import { readColumnHead } from './csv/column-head.ts';
import { type CsvCell, type CsvRow, type CsvTable, placeOfCell } from './csv/csv-table.ts';
import { type DecimalSign, findDecimalSign, withPoint } from './csv/decimal-signs.ts';
import { readCsv } from './csv/read-csv.ts';
import type { ColumnSource } from './note-source.ts';
import type { TableUse } from './read-includes.ts';
import { checkRegisterKey } from './read-names.ts';
import type { RegisterReader } from './read-register.ts';

/** A column that holds a value of each item, its title or its source. */
interface ValueColumn {
  readonly index: number;
  /** 'protection_level', 'title', 'source' */
  readonly name: string;
  readonly unit?: string;
}

/**
 * Reads a table that project.yaml includes: each row an item of one section, which the first column names; the other columns
 * hold its values, its title and their source. A cell that is empty says nothing. False where it could not be read whole, which is
 * reported.
 */
export function readRegisterTable(
  file: string,
  source: string,
  use: TableUse,
  register: RegisterReader,
  collector: Collector,
): boolean {
  const table = readCsv(file, source, collector);
  if (!table) return false;
  const columns = use.columns ? namedColumns(table, use.columns, collector) : headColumns(table, collector);
  if (!columns) return false;
  const numeric = columns.filter((column) => isNumeric(table, column));
  const sign = findDecimalSign(
    table,
    numeric.map(({ index }) => index),
    collector,
  );
  if (!sign) return false;
  const read = columns.map((column) => ({
    ...column,
    sign: numeric.includes(column) ? sign : ('.' as const),
  }));
  for (const row of table.rows) readRow(table, row, use.section.name, read, register, collector);
  return true;
}

/** Where a unit is named, or every cell is a number, a comma or point in a cell is one of a number. */
function isNumeric({ rows }: CsvTable, { index, name, unit }: ValueColumn): boolean {
  if (name === 'title' || name === 'source') return false;
  const filled = rows.map(({ cells }) => cells[index]!.text).filter((text) => text !== '');
  return unit !== undefined || filled.every(isNumber);
}

/** Columns as the mapping names them; the others do not count. */
function namedColumns(
  table: CsvTable,
  named: readonly ColumnSource[],
  collector: Collector,
): readonly ValueColumn[] | undefined {
  const known = table.header.map(({ text }) => text);
  const columns = named.map(({ given, givenPlace, column, unit }): ValueColumn | undefined => {
    if (!checkRegisterKey({ key: given, keyPlace: givenPlace }, collector)) return undefined;
    const heads = known.map(readColumnHead);
    const exact = known.indexOf(column.name);
    const index = exact >= 0 ? exact : heads.findIndex(({ name }) => name === column.name);
    if (index < 0) {
      const nearest = nearestName(column.name, [...known, ...heads.map(({ name }) => name)]);
      collector.error('no-such-column', column.place, {
        column: column.name,
        file: table.file,
        nearest,
        known,
      });
      return undefined;
    }
    const headUnit = heads[index]!.unit;
    if (unit && headUnit !== undefined && headUnit !== unit.name) {
      const place = placeOfCell(table, table.header[index]!);
      collector.error(
        'unit-of-column',
        unit.place,
        { column: column.name, head: headUnit, unit: unit.name },
        [{ place, note: relatedNote('written-here', {}) }],
      );
      return undefined;
    }
    return withUnit({ index, name: given }, unit?.name ?? headUnit);
  });
  const sound = columns.filter((column) => column !== undefined);
  return sound.length < columns.length ? undefined : sound;
}

/** Every column but the first, by the name in its header. */
function headColumns(table: CsvTable, collector: Collector): readonly ValueColumn[] | undefined {
  const first = new Map<string, CsvCell>();
  let sound = true;
  const columns = table.header.slice(1).flatMap((cell, i): ValueColumn[] => {
    if (cell.text === '') return [];
    const { name: written, unit } = readColumnHead(cell.text);
    const name = written.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '_');
    const place = placeOfCell(table, cell);
    const key = { key: name, keyPlace: place };
    const before = first.get(name);
    if (before) {
      collector.error('columns-of-one-value', place, { name, columns: [before.text, cell.text] });
      sound = false;
    } else if (!checkRegisterKey(key, collector)) sound = false;
    else first.set(name, cell);
    return [withUnit({ index: i + 1, name }, unit)];
  });
  return sound ? columns : undefined;
}

function withUnit(column: ValueColumn, unit: string | undefined): ValueColumn {
  return unit === undefined ? column : { ...column, unit };
}

/** A column with the decimal sign of its numbers. */
interface ReadColumn extends ValueColumn {
  readonly sign: DecimalSign;
}

function readRow(
  table: CsvTable,
  { cells }: CsvRow,
  section: string,
  columns: readonly ReadColumn[],
  register: RegisterReader,
  collector: Collector,
): void {
  const named = cells[0]!;
  const place = placeOfCell(table, named);
  if (named.text === '') {
    collector.error('item-without-name', place, { column: table.header[0]!.text });
    return;
  }
  const key = { key: named.text, keyPlace: place };
  const path = `${section}.${named.text}`;
  if (!checkRegisterKey(key, collector) || !register.claim(path, place, 'each once')) return;
  const cellOf = (name: string): CsvCell | undefined => {
    const column = columns.find((one) => one.name === name);
    const cell = column && cells[column.index]!;
    return cell?.text === '' ? undefined : cell;
  };
  const title = cellOf('title')?.text;
  if (title !== undefined) register.itemTitles.set(path, title);
  const source = cellOf('source')?.text;
  for (const column of columns) {
    if (column.name === 'title' || column.name === 'source') continue;
    const cell = cells[column.index]!;
    if (cell.text !== '')
      readCell(table, cell, `${path}.${column.name}`, column, source, register, collector);
  }
}

function readCell(
  table: CsvTable,
  cell: CsvCell,
  path: string,
  { unit, sign }: ReadColumn,
  source: string | undefined,
  register: RegisterReader,
  collector: Collector,
): void {
  const place: Place = placeOfCell(table, cell);
  const value = cellValue(withPoint(cell.text, sign), unit);
  if (value.ok) register.add(path, { type: 'scalar', text: value.text, place }, place, source);
  else collector.error('unit-of-cell', place, { own: value.own, unit: unit ?? '' });
}
