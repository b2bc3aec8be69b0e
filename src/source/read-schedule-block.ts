import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { BLOCK_CASES, type ColumnSource, type NamedColumn, type ScheduleBlock } from './note-source.ts';
import { accept } from './read-calc-block.ts';
import { blockId } from './read-names.ts';
import {
  nameNode,
  option,
  optional,
  type Read,
  readRecord,
  readScalar,
  required,
  text,
  texts,
} from './read-shape.ts';
import { givens, isEmpty, namedEntries } from './read-value.ts';
import type { MapEntry, SourceNode } from './source-node.ts';
import { withoutUndefined } from './without-undefined.ts';

/** Set out in full without being asked: one row shows the formulas and their sources. */
const USUALLY_IN_FULL = 1;
/** A page or more each. */
const MOST_IN_FULL = 50;

const column: Read<NamedColumn> = (node, key, collector) => {
  const name = text(node, key, collector);
  return name === undefined ? undefined : { column: name, place: node.place };
};

/** The file with the rows: a path in the project. */
const path: Read<{ readonly path: string; readonly place: Place }> = (node, key, collector) => {
  const written = text(node, key, collector);
  if (written === undefined) return undefined;
  const parts = written.split('/');
  const isPlain = !/[\\\p{Cc}]|^[A-Za-z]:/u.test(written) && !parts.some((part) => part === '' || /^\.\.?$/.test(part));
  if (isPlain && /\.csv$/i.test(written)) return { path: written, place: node.place };
  collector.error('schedule-path', node.place, { text: written });
  return undefined;
};

const COLUMN = { column: required(column, 'lead a'), unit: optional(text) };

const columns: Read<readonly ColumnSource[]> = (node, key, collector) =>
  namedEntries(node, key, collector)?.flatMap((entry) => readColumn(entry, collector) ?? []);

function readColumn(entry: MapEntry, collector: Collector): ColumnSource | undefined {
  const { key: given, keyPlace: givenPlace, value } = entry;
  if (isEmpty(entry, collector, 'lead a')) return undefined;
  if (value.type !== 'map') {
    const named = column(value, given, collector);
    return named && { given, givenPlace, column: named.column, columnPlace: named.place };
  }
  const reading = readRecord(value, COLUMN, { where: `'${given}'` }, collector);
  const { column: named, unit } = reading?.values ?? {};
  if (!reading || !named) return undefined;
  const unitPlace = reading.places.get('unit');
  return {
    given,
    givenPlace,
    column: named.column,
    columnPlace: named.place,
    ...(unit !== undefined && unitPlace ? { unit, unitPlace } : {}),
  };
}

const CASE_COLUMN = { column: required(column, 'state') };
const caseWord = option(BLOCK_CASES);

/** One case for all rows, or the column that names that of each. */
const rowCase: Read<NonNullable<ScheduleBlock['rowCase']>> = (node, key, collector) => {
  if (node.type !== 'map') {
    const word = caseWord(node, key, collector);
    return word && { ofAll: word };
  }
  return readRecord(node, CASE_COLUMN, { where: `'${key}'` }, collector)?.values.column;
};

const count: Read<number> = (node, key, collector) => {
  const scalar = readScalar(node, key, collector);
  if (!scalar) return undefined;
  const written = scalar.text.trim();
  if (/^\d+$/.test(written) && Number(written) <= MOST_IN_FULL) return Number(written);
  collector.error('not-a-count', scalar.place, { key, text: written, most: MOST_IN_FULL });
  return undefined;
};

/** Entries of the register, one or several. */
const entries: Read<readonly { readonly entry: string; readonly place: Place }[]> = (node, key, collector) => {
  const items = node.type === 'list' ? node.items : [node];
  return items.flatMap((item) => {
    const entry = text(item, key, collector);
    return entry === undefined ? [] : [{ entry, place: item.place }];
  });
};

const SCHEDULE = {
  id: required(blockId, 'boards'),
  calculation: optional(text),
  based_on: optional(text),
  title: optional(text),
  rows: required(path, 'data/boards.csv'),
  row_id: optional(column),
  case: optional(rowCase),
  columns: required(columns, '{ lead_a: lead a }'),
  givens_from: optional(entries),
  given: optional(givens),
  without: optional(texts),
  group_by: optional(column),
  in_full: optional(count),
  accept: optional(accept),
};

/** Reads a `yaml schedule` block; `place` is the opening fence. */
export function readScheduleBlock(
  node: SourceNode,
  place: Place,
  collector: Collector,
): ScheduleBlock | undefined {
  const reading = readRecord(node, SCHEDULE, { where: 'the schedule', place }, collector);
  if (!reading) return undefined;
  const { id, calculation, based_on, rows, columns: named, in_full, group_by, row_id } = reading.values;
  if (!reading.keyPlaces.has('calculation') && !reading.keyPlaces.has('based_on')) {
    collector.error('missing-key', place, { key: 'calculation', where: 'the schedule', example: 'spd-effective-protection-level' });
  }
  if (!id || !rows || !named || (!calculation && !based_on)) return undefined;
  if (calculation && based_on) {
    collector.error('calculation-and-base', reading.places.get('based_on')!, {});
    return undefined;
  }
  const calculationPlace = reading.places.get('calculation') ?? reading.places.get('based_on')!;
  return withoutUndefined({
    kind: 'schedule' as const,
    id,
    idPlace: reading.places.get('id')!,
    title: reading.values.title,
    place,
    accepted: reading.values.accept ?? [],
    calculation,
    calculationPlace,
    basedOn: based_on,
    rows,
    rowId: row_id,
    rowCase: reading.values.case,
    columns: named,
    columnsPlace: reading.keyPlaces.get('columns')!,
    given: reading.values.given ?? [],
    without: reading.values.without,
    givensFrom: reading.values.givens_from,
    groupBy: group_by,
    inFull: in_full ?? USUALLY_IN_FULL,
  });
}
