import type { EvaluatedLimiting } from '../../engine/definition/evaluated.ts';
import type { ResultValue, Value } from '../../engine/definition/value.ts';
import type {
  EvaluatedSchedule,
  RowResult,
  ScheduleRow,
} from '../../evaluation/schedule/evaluated-schedule.ts';
import { governingCheck } from '../../evaluation/schedule/order-rows.ts';
import { sayVerdict } from '../../evaluation/word-calculation.ts';
import { fromSi, type Quantity } from '../../quantity/quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import { ENGLISH } from '../../words/words.ts';
import { wordDigits } from '../recorded-number.ts';

/** A cell of the results: a number counts in the unit of its column. */
export type ResultCell = { readonly number: number; readonly digits: number } | { readonly text: string };

export interface ResultTable {
  readonly header: readonly string[];
  readonly rows: readonly (readonly ResultCell[])[];
}

interface Column {
  readonly name: string;
  /** Of the first row that has a number in the column. */
  readonly unit: (rows: readonly ScheduleRow[]) => Unit | undefined;
  readonly cell: (row: ScheduleRow, unit: Unit | undefined) => ResultCell;
}

/** Digits of a result of formulas and tables, and of a numerical method: what another machine gives as well. */
const DIGITS = { formula: 9, solver: 6 } as const;

/**
 * The results of all rows of a schedule, in the order of the file, in English: what a row is, what it was given, its results, checks,
 * limiting values and the ids of its cautions.
 */
export function tabulateSchedule(schedule: EvaluatedSchedule): ResultTable {
  const { rows } = schedule;
  const digits = schedule.method.steps.some(({ kind }) => kind === 'solver') ? DIGITS.solver : DIGITS.formula;
  const columns = [
    ...nameColumns(schedule),
    ...givenColumns(schedule),
    ...resultColumns(schedule, digits),
    ...verdictColumns(),
    ...checkColumns(rows, digits),
    ...limitingColumns(rows, digits),
    textColumn('cautions', ({ cautions }) => cautions.map(({ id }) => id).join('; ')),
  ];
  const units = columns.map(({ unit }) => unit(rows));
  return {
    header: distinct(columns.map(({ name }, i) => withUnit(name, units[i]))),
    rows: rows.map((row) => columns.map(({ cell }, i) => cell(row, units[i]))),
  };
}

function withUnit(name: string, unit: Unit | undefined): string {
  return unit === undefined || unit.text === '' || unit.text === '1' ? name : `${name} [${unit.text}]`;
}

/** Columns that would bear one name are counted: a given and a check may share theirs. */
function distinct(names: readonly string[]): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    let free = name;
    for (let n = 2; taken.has(free); n += 1) free = `${name} (${n})`;
    taken.add(free);
    return free;
  });
}

function textColumn(name: string, text: (row: ScheduleRow) => string): Column {
  return { name, unit: () => undefined, cell: (row) => ({ text: text(row) }) };
}

const NOTHING: ResultCell = { text: '' };

function nameColumns({ source, rows, groups }: EvaluatedSchedule): Column[] {
  const hasCase = rows.some((row) => row.case !== undefined);
  return [
    { name: 'line', unit: () => undefined, cell: ({ row }) => ({ number: row, digits: 9 }) },
    textColumn(source.rowId?.name ?? 'row', ({ id }) => id),
    ...(hasCase ? [textColumn('case', (row) => row.case ?? '')] : []),
    ...(groups.length > 0 ? [textColumn(source.groupBy?.name ?? 'group', ({ group }) => group ?? '')] : []),
  ];
}

function givenColumns({ source }: EvaluatedSchedule): Column[] {
  return source.columns.map(({ given }) => ({
    name: wordName(given),
    unit: (rows) => firstOf(rows, (row) => unitOfValue(row.given[given])),
    cell: (row, unit) => cellOfValue(row.given[given], unit),
  }));
}

function unitOfValue(value: Value | undefined): Unit | undefined {
  return value?.type === 'quantity' ? value.quantity.unit : undefined;
}

/** A given with the digits with which it was written. */
function cellOfValue(value: Value | undefined, unit: Unit | undefined): ResultCell {
  if (value === undefined) return NOTHING;
  if (value.type === 'quantity' && unit) return { number: countedIn(value.quantity, unit), digits: 15 };
  if (value.type === 'choice') return { text: value.choice };
  if (value.type === 'list')
    return { text: value.items.map((item) => `${item.value} ${item.unit.text}`).join('; ') };
  return NOTHING;
}

function countedIn({ value, unit, si }: Pick<Quantity, 'value' | 'unit' | 'si'>, wanted: Unit): number {
  return unit.text === wanted.text ? value : fromSi(si, wanted);
}

function resultColumns({ rows, source }: EvaluatedSchedule, digits: number): Column[] {
  // A name that is both given and result means one value.
  const given = new Set(source.columns.map((column) => column.given));
  const names = new Set(
    rows.flatMap(({ results }) => Object.keys(results)).filter((name) => !given.has(name)),
  );
  return [...names].map((name) => ({
    name: wordName(name),
    unit: (all) => firstOf(all, ({ results }) => unitOfResult(results[name])),
    cell: ({ results }) => cellOfResult(results[name], digits),
  }));
}

function unitOfResult(result: RowResult | ResultValue | undefined): Unit | undefined {
  return result?.type === 'number' ? result.unit : undefined;
}

function cellOfResult(result: RowResult | ResultValue | undefined, digits: number): ResultCell {
  switch (result?.type) {
    case undefined:
      return NOTHING;
    case 'number':
      return { number: fromSi(result.si, result.unit), digits };
    case 'words':
      return { text: ENGLISH.word(result.words) };
    case 'choice':
      return { text: result.choice };
    case 'list': {
      const items = 'items' in result ? result.items.map(({ si }) => si) : result.si;
      return {
        text: items
          .map((si) => `${wordDigits(fromSi(si, result.unit), digits)} ${result.unit.text}`)
          .join('; '),
      };
    }
  }
}

/** The verdict of a row is that of the check that governs it. */
function verdictColumns(): Column[] {
  return [
    textColumn('verdict', (row) => {
      const governing = governingCheck(row);
      return governing ? ENGLISH.word(sayVerdict(governing.verdict)) : '';
    }),
    {
      name: 'margin [%]',
      unit: () => undefined,
      cell: (row) => {
        const margin = governingCheck(row)?.margin;
        return margin?.of === 'limit' ? { number: margin.value * 100, digits: 6 } : NOTHING;
      },
    },
    textColumn('governing check', (row) => wordName(governingCheck(row)?.name ?? '')),
  ];
}

function checkColumns(rows: readonly ScheduleRow[], digits: number): Column[] {
  const names = new Set(rows.flatMap(({ checks }) => checks.map(({ name }) => name)));
  return [...names].flatMap((name): Column[] => {
    const find = ({ checks }: ScheduleRow) => checks.find((check) => check.name === name);
    const side = (of: 'value' | 'limit'): Column => ({
      name: `${wordName(name)}: ${of}`,
      unit: (all) => firstOf(all, (row) => unitOfResult(find(row)?.[of])),
      cell: (row) => cellOfResult(find(row)?.[of], digits),
    });
    return [
      textColumn(`${wordName(name)}: verdict`, (row) => {
        const check = find(row);
        return check ? ENGLISH.word(sayVerdict(check.verdict)) : '';
      }),
      side('value'),
      side('limit'),
    ];
  });
}

/** Limiting values as they are printed, on the safe side. */
function limitingColumns(rows: readonly ScheduleRow[], digits: number): Column[] {
  const columns = new Map<string, Pick<EvaluatedLimiting, 'given' | 'seek'>>();
  for (const { limiting } of rows)
    for (const { given, seek } of limiting) columns.set(`${given} ${seek}`, { given, seek });
  return [...columns.values()].map(({ given, seek }) => {
    const find = ({ limiting }: ScheduleRow) =>
      limiting.find((one) => one.given === given && one.seek === seek)?.result;
    return {
      name: `${wordName(given)}: ${seek === 'largest' ? 'at most' : 'at least'}`,
      unit: (all) => firstOf(all, (row) => unitOfResult(find(row))),
      cell: (row, unit) => {
        const result = find(row);
        return result?.type === 'number' && unit
          ? { number: countedIn({ ...result.displayed, si: result.si }, unit), digits: 15 }
          : cellOfResult(result, digits);
      },
    };
  });
}

function firstOf<T>(rows: readonly ScheduleRow[], find: (row: ScheduleRow) => T | undefined): T | undefined {
  for (const row of rows) {
    const found = find(row);
    if (found !== undefined) return found;
  }
  return undefined;
}

function wordName(name: string): string {
  return name.replaceAll('_', ' ');
}
