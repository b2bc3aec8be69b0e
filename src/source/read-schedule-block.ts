import type { Collector } from '../diagnostics/collector.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import type { Place } from '../diagnostics/place.ts';
import { MOST_ROWS } from './csv/read-csv.ts';
import type { ColumnSource, ScheduleBlock, WrittenName } from './note-source.ts';
import { CALC_KEYS, readCalcBlock } from './read-calc-block.ts';
import { optional, type Read, readRecord, readScalar, required, text } from './read-shape.ts';
import { isEmpty, namedEntries } from './read-value.ts';
import type { MapEntry, MapNode, SourceNode } from './source-node.ts';
import { withoutUndefined } from './without-undefined.ts';

/** Set out in full without being asked: one row shows the formulas and their sources. */
const USUALLY_IN_FULL = 1;
/** Each takes a page or more. */
const MOST_IN_FULL = 50;

const column: Read<WrittenName> = (node, key, collector) => {
  const name = text(node, key, collector);
  return name === undefined ? undefined : { name, place: node.place };
};

/** The file with the rows: a path in the project, with forward slashes. */
const path: Read<WrittenName> = (node, key, collector) => {
  const written = column(node, key, collector);
  if (!written || isPlainPath(written.name)) return written;
  collector.error('schedule-path', node.place, { text: written.name });
  return undefined;
};

function isPlainPath(path: string): boolean {
  if (!/\.csv$/i.test(path) || /[\\\p{Cc}]|^[A-Za-z]:/u.test(path)) return false;
  return path.split('/').every((part) => part !== '' && part !== '.' && part !== '..');
}

const COLUMN = { column: required(column, 'lead a'), unit: optional(text) };

/** The columns of a table that fill givens, each by name or with the unit of its cells. */
export const columns: Read<readonly ColumnSource[]> = (node, key, collector) =>
  namedEntries(node, key, collector)?.flatMap((entry) => readColumn(entry, collector) ?? []);

function readColumn(entry: MapEntry, collector: Collector): ColumnSource | undefined {
  const { key: given, keyPlace: givenPlace, value } = entry;
  if (isEmpty(entry, collector, 'lead a')) return undefined;
  if (value.type !== 'map') {
    const named = column(value, given, collector);
    return named && { given, givenPlace, column: named };
  }
  const reading = readRecord(value, COLUMN, { where: `'${given}'` }, collector);
  const { column: named, unit } = reading?.values ?? {};
  const unitPlace = reading?.places.get('unit');
  if (!named) return undefined;
  return {
    given,
    givenPlace,
    column: named,
    ...(unit !== undefined && unitPlace ? { unit: { name: unit, place: unitPlace } } : {}),
  };
}

const CASE_COLUMN = { column: required(column, 'state') };

const caseColumn: Read<WrittenName> = (node, key, collector) =>
  readRecord(node, CASE_COLUMN, { where: `'${key}'` }, collector)?.values.column;

const count =
  (most: number): Read<number> =>
  (node, key, collector) => {
    const scalar = readScalar(node, key, collector);
    if (!scalar) return undefined;
    const written = scalar.text.trim();
    if (/^\d+$/.test(written) && Number(written) <= most) return Number(written);
    collector.error('not-a-count', scalar.place, { key, text: written, most });
    return undefined;
  };

/** What a schedule has beside the keys of a calculation block. */
export const SCHEDULE = {
  rows: required(path, 'data/boards.csv'),
  row_id: optional(column),
  columns: required(columns, '{ lead_a: lead a }'),
  group_by: optional(column),
  in_full: optional(count(MOST_IN_FULL)),
  in_table: optional(count(MOST_ROWS)),
};

export const SCHEDULE_KEYS: readonly string[] = Object.keys(SCHEDULE);

const CASE = { case: optional(caseColumn) };

/** Reads a `yaml schedule` block; `place` is the opening fence. */
export function readScheduleBlock(
  node: SourceNode,
  place: Place,
  collector: Collector,
): ScheduleBlock | undefined {
  const common: MapEntry[] = [];
  const where = 'the schedule';
  const own = readRecord(node, SCHEDULE, { where, place, others: (entry) => common.push(entry) }, collector);
  if (!own) return undefined;
  const ofColumn = common.filter(({ key, value }) => key === 'case' && value.type === 'map');
  const known = common.filter((entry) => !ofColumn.includes(entry) && isKnown(entry, collector));
  const cases = readRecord(mapOf(ofColumn, place), CASE, { where }, collector);
  const block = readCalcBlock(mapOf(known, node.place), place, collector);
  const { rows, row_id, columns: mapped, group_by, in_full, in_table } = own.values;
  if (!block || !rows || !mapped) return undefined;
  return withoutUndefined({
    kind: 'schedule' as const,
    id: block.id,
    idPlace: block.idPlace,
    title: block.title,
    place,
    common: block,
    rows,
    rowId: row_id,
    caseColumn: cases?.values.case,
    columns: mapped,
    columnsPlace: own.keyPlaces.get('columns')!,
    groupBy: group_by,
    inFull: in_full ?? USUALLY_IN_FULL,
    inTable: in_table,
  });
}

function isKnown({ key, keyPlace }: MapEntry, collector: Collector): boolean {
  if (CALC_KEYS.includes(key)) return true;
  const known = [...CALC_KEYS, ...SCHEDULE_KEYS];
  collector.error('unknown-key', keyPlace, {
    key,
    where: 'the schedule',
    known,
    nearest: nearestName(key, known),
  });
  return false;
}

function mapOf(entries: readonly MapEntry[], place: Place): MapNode {
  return { type: 'map', entries, place };
}
