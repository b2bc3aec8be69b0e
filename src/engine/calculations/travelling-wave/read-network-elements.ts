import type { Sentence } from '../../../words/sentence.ts';
import type { SolverValues } from '../../definition/definition.ts';
import { refusal } from '../../definition/refusal.ts';
import type { WaveformPoint } from '../../physics/piecewise-linear.ts';
import type { CharacteristicPoint } from '../../transient/elements/arrester-characteristic.ts';

/** Columns of a row that hold its values, as numbers in SI. */
const VALUE_COLUMNS = [
  'surge_impedance',
  'length',
  'velocity',
  'resistance',
  'inductance',
  'second_inductance',
  'mutual_inductance',
  'capacitance',
  'ionisation_current',
  'residual_voltage',
  'residual_current',
  'exponent',
  'height',
  'parallel_columns',
  'initial_voltage',
  'peak_voltage',
  'peak_current',
  'front_time',
  'half_value_time',
  'front_constant',
  'tail_constant',
] as const;

/** Columns that hold a name or a choice and need not be there. */
const WORD_COLUMNS = ['sheath', 'second_from', 'second_to', 'characteristic', 'shape', 'waveform'] as const;

export type ValueColumn = (typeof VALUE_COLUMNS)[number];
export type WordColumn = (typeof WORD_COLUMNS)[number];
export type ElementType =
  | 'line'
  | 'cable'
  | 'resistor'
  | 'earth-electrode'
  | 'inductor'
  | 'coupled-inductors'
  | 'capacitor'
  | 'arrester'
  | 'frequency-dependent-arrester'
  | 'source';

/** A row of the table of elements: its values in SI, those that are not written absent. */
export interface ElementRow {
  /** From zero. */
  readonly index: number;
  readonly name: string;
  readonly type: ElementType;
  readonly from: string;
  readonly to: string;
  readonly words: Readonly<Partial<Record<WordColumn, string>>>;
  readonly values: Readonly<Partial<Record<ValueColumn, number>>>;
}

/** A point of a table to which elements refer: the row where it stands, from zero. */
interface TablePoint<Point> {
  readonly index: number;
  readonly point: Point;
}

/** A named table, its points in the order in which they are written. */
export interface PointTable<Point> {
  readonly name: string;
  readonly points: readonly TablePoint<Point>[];
}

/** A circuit as it is written. */
export interface CircuitRows {
  readonly elements: readonly ElementRow[];
  readonly characteristics: readonly PointTable<CharacteristicPoint>[];
  readonly waveforms: readonly PointTable<WaveformPoint>[];
}

export function readCircuitRows(values: SolverValues): CircuitRows {
  return {
    elements: readElementRows(values),
    characteristics: readTables(values, 'characteristics', ['current', 'voltage']),
    waveforms: readTables(values, 'waveforms', ['time', 'share']),
  };
}

/** An element as messages call it: 'SA1' (arrester, row 3). */
export function nameRow({ name, type, index }: ElementRow): Sentence {
  return refusal('element', "'{name}' ({type}, row {row})", { name, type, row: index + 1 });
}

/** The points of the table of that name; undefined where there is none. */
export function pointsOf<Point>(
  tables: readonly PointTable<Point>[],
  asked: string | undefined,
): readonly Point[] | undefined {
  return tables.find(({ name }) => name === asked)?.points.map(({ point }) => point);
}

function readElementRows(values: SolverValues): ElementRow[] {
  const column = (name: string) => values.choices(`elements.${name}`);
  const [names, types, from, to] = ['name', 'type', 'from', 'to'].map(column);
  const words = WORD_COLUMNS.map((name) => [name, column(name)] as const);
  const numbers = VALUE_COLUMNS.map((name) => [name, values.list(`elements.${name}`)] as const);
  return names!.map((name, index) => ({
    index,
    name,
    type: types![index] as ElementType,
    from: from![index]!,
    to: to![index]!,
    words: Object.fromEntries(
      words.flatMap(([word, list]) => (list[index] === '' ? [] : [[word, list[index]!]])),
    ),
    values: Object.fromEntries(
      numbers.flatMap(([value, list]) => (Number.isNaN(list[index]!) ? [] : [[value, list[index]!]])),
    ),
  }));
}

function readTables(
  values: SolverValues,
  given: string,
  columns: readonly [string, string],
): PointTable<readonly [number, number]>[] {
  if (!values.has(`${given}.name`)) return [];
  const tables = new Map<string, TablePoint<readonly [number, number]>[]>();
  const [first, second] = columns.map((column) => values.list(`${given}.${column}`));
  for (const [index, name] of values.choices(`${given}.name`).entries()) {
    const points = tables.get(name) ?? [];
    points.push({ index, point: [first![index]!, second![index]!] });
    tables.set(name, points);
  }
  return [...tables].map(([name, points]) => ({ name, points }));
}
