import { nearestName } from '../../../diagnostics/nearest-name.ts';
import type { SentenceData, Text } from '../../../words/sentence.ts';
import type { Refusal } from '../../definition/definition.ts';
import { refusal } from '../../definition/refusal.ts';
import { arresterFilter } from '../../transient/elements/frequency-dependent-arrester.ts';
import { fitSectionInductance } from './fit-section-inductance.ts';
import {
  type CircuitRows,
  type ElementRow,
  type ElementType,
  nameRow,
  type PointTable,
  type ValueColumn,
  type WordColumn,
} from './read-network-elements.ts';

type Column = ValueColumn | WordColumn;

/** What each type needs and what else it may have. */
const COLUMNS: Readonly<
  Record<ElementType, { readonly needs: readonly Column[]; readonly may?: readonly Column[] }>
> = {
  line: { needs: ['surge_impedance', 'length', 'velocity'], may: ['initial_voltage'] },
  cable: { needs: ['surge_impedance', 'length', 'velocity'], may: ['initial_voltage', 'sheath'] },
  resistor: { needs: ['resistance'] },
  'earth-electrode': { needs: ['resistance', 'ionisation_current'] },
  inductor: { needs: ['inductance'] },
  'coupled-inductors': {
    needs: ['second_from', 'second_to', 'inductance', 'second_inductance', 'mutual_inductance'],
  },
  capacitor: { needs: ['capacitance'], may: ['initial_voltage'] },
  arrester: { needs: [], may: ['residual_voltage', 'residual_current', 'exponent', 'characteristic'] },
  'frequency-dependent-arrester': {
    needs: ['residual_voltage', 'height'],
    may: ['parallel_columns'],
  },
  source: {
    needs: [],
    may: [
      'peak_voltage',
      'peak_current',
      'surge_impedance',
      'shape',
      'front_time',
      'half_value_time',
      'front_constant',
      'tail_constant',
      'waveform',
    ],
  },
};

const EXPONENTIALS = { needs: ['front_constant', 'tail_constant'], may: [] } as const;

/** The columns of a source that depend on its shape. */
const SHAPES: Readonly<
  Record<string, { readonly needs: readonly Column[]; readonly may: readonly Column[] }>
> = {
  straight: { needs: [], may: ['front_time', 'half_value_time'] },
  'double-exponential': EXPONENTIALS,
  heidler: EXPONENTIALS,
  points: { needs: ['waveform'], may: [] },
};

const OF_A_SHAPE: readonly Column[] = Object.values(SHAPES).flatMap(({ needs, may }) => [...needs, ...may]);

/** What is missing from the rows of a circuit or has no place in them, each at its row and column. */
export function judgeNetworkRows(circuit: CircuitRows): Refusal[] {
  return [
    ...circuit.elements.flatMap((row) => faultsOfRow(row, circuit)),
    ...faultsOfTables(circuit.characteristics, 'characteristics', faultOfCharacteristic),
    ...faultsOfTables(circuit.waveforms, 'waveforms', faultOfWaveform),
  ];
}

function faultsOfRow(row: ElementRow, circuit: CircuitRows): Refusal[] {
  const { needs, may = [] } = COLUMNS[row.type];
  const strange = columnsOf(row).filter((column) => !needs.includes(column) && !may.includes(column));
  const faults = [...missingFrom(row, needs), ...strange.map((column) => noUse(row, column))];
  if (row.type === 'arrester') faults.push(...faultsOfArrester(row, circuit));
  if (row.type === 'source') faults.push(...faultsOfSource(row, circuit));
  if (row.type === 'frequency-dependent-arrester' && faults.length === 0) faults.push(...faultsOfModel(row));
  return faults;
}

function faultsOfArrester(row: ElementRow, { characteristics }: CircuitRows): Refusal[] {
  const { characteristic } = row.words;
  if (characteristic === undefined) {
    if (row.values.residual_voltage !== undefined) return missingFrom(row, ['residual_current', 'exponent']);
    const hint = refusal('or-characteristic', 'or characteristic, the name of a table of points');
    return [
      at(row, undefined, 'arrester-law', 'needs residual_voltage, residual_current and exponent', { hint }),
    ];
  }
  const because = refusal('beside-characteristic', 'beside a characteristic');
  const law = (['residual_voltage', 'residual_current', 'exponent'] as const).filter((column) =>
    has(row, column),
  );
  return [
    ...law.map((column) => noUse(row, column, because)),
    ...unknownTable(row, 'characteristic', characteristic, characteristics),
  ];
}

/** The model of a height is fitted to the residual voltage; a height out of all proportion to it allows of no fit. */
function faultsOfModel(row: ElementRow): Refusal[] {
  const { residual_voltage = 1, height = 1, parallel_columns = 1 } = row.values;
  if (fitSectionInductance(residual_voltage, arresterFilter(height, parallel_columns))) return [];
  return [
    at(
      row,
      'height',
      'height-of-model',
      'has a height with which its model cannot have this residual voltage at 10 kA 8/20',
      {
        hint: refusal(
          'height-and-voltage',
          'check the units of height and residual_voltage: arresters are some 1 m high for each 200 kV',
        ),
      },
    ),
  ];
}

function faultsOfSource(row: ElementRow, { waveforms }: CircuitRows): Refusal[] {
  const { peak_voltage, peak_current, surge_impedance } = row.values;
  const faults: Refusal[] = [];
  if ((peak_voltage === undefined) === (peak_current === undefined)) {
    faults.push(at(row, 'peak_current', 'one-peak', 'needs exactly one of peak_voltage and peak_current'));
  }
  if (surge_impedance !== undefined && peak_current !== undefined && peak_voltage === undefined) {
    faults.push(
      at(
        row,
        'surge_impedance',
        'impedance-beside-current',
        'has no use for surge_impedance beside peak_current',
        { hint: refusal('own-resistor', 'write a resistor of its own') },
      ),
    );
  }
  const shape = row.words.shape ?? 'straight';
  const { needs, may } = SHAPES[shape]!;
  const strange = OF_A_SHAPE.filter(
    (column, i) =>
      OF_A_SHAPE.indexOf(column) === i && ![...needs, ...may].includes(column) && has(row, column),
  );
  const because = refusal('with-shape', 'with the shape {shape}', { shape });
  faults.push(...missingFrom(row, needs, because));
  faults.push(...strange.map((column) => noUse(row, column, because)));
  if (row.words.waveform !== undefined) {
    faults.push(...unknownTable(row, 'waveform', row.words.waveform, waveforms));
  }
  return [...faults, ...faultsOfTimes(row)];
}

/** A tail is longer than the front before it. */
function faultsOfTimes(row: ElementRow): Refusal[] {
  const { front_time = 0, half_value_time = Number.POSITIVE_INFINITY } = row.values;
  const { front_constant = 0, tail_constant = Number.POSITIVE_INFINITY } = row.values;
  return [
    ...(half_value_time > front_time
      ? []
      : [at(row, 'half_value_time', 'long-tail', 'needs a half_value_time longer than its front_time')]),
    ...(tail_constant > front_constant
      ? []
      : [
          at(
            row,
            'tail_constant',
            'long-tail-constant',
            'needs a tail_constant longer than its front_constant',
          ),
        ]),
  ];
}

function unknownTable<Point>(
  row: ElementRow,
  column: 'characteristic' | 'waveform',
  name: string,
  tables: readonly PointTable<Point>[],
): Refusal[] {
  const names = tables.map((table) => table.name);
  if (names.includes(name)) return [];
  const nearest = nearestName(name, names);
  const known = names.join(', ');
  const others =
    known === ''
      ? refusal('write-points', 'write its points under {tables}', { tables: `${column}s` })
      : refusal('known-tables', 'the {tables} are: {known}', { tables: `${column}s`, known });
  const hint = nearest ? refusal('did-you-mean', "did you mean '{nearest}'?", { nearest }) : others;
  return [
    at(row, column, 'unknown-table', "names the {column} '{table}', which does not exist", {
      data: { column, table: name },
      hint,
    }),
  ];
}

function faultsOfTables<Point>(
  tables: readonly PointTable<Point>[],
  given: string,
  faultOf: (point: Point, before: Point | undefined) => TableFault | undefined,
): Refusal[] {
  return tables.flatMap(({ name, points }): Refusal[] => {
    if (points.length < 2) {
      const text = refusal('two-points', "'{table}' needs two points or more", { table: name });
      return [{ given, item: points[0]!.index, column: 'name', text }];
    }
    return points.flatMap(({ point, index }, i) => {
      const fault = faultOf(point, points[i - 1]?.point);
      if (!fault) return [];
      const text = refusal(fault.id, `'{table}' ${fault.english}`, { table: name });
      return [{ given, item: index, column: fault.column, text }];
    });
  });
}

type Pair = readonly [number, number];

interface TableFault {
  readonly column: string;
  readonly id: string;
  readonly english: string;
}

function faultOfCharacteristic([current, voltage]: Pair, before: Pair | undefined): TableFault | undefined {
  if (before && !(current > before[0])) {
    return {
      column: 'current',
      id: 'rising-current',
      english: 'must rise in current from each point to the next',
    };
  }
  if (before && !(voltage > before[1])) {
    return {
      column: 'voltage',
      id: 'rising-voltage',
      english: 'must rise in voltage from each point to the next',
    };
  }
  return undefined;
}

function faultOfWaveform([time]: Pair, before: Pair | undefined): TableFault | undefined {
  return before && time < before[0]
    ? { column: 'time', id: 'forwards-in-time', english: 'must be in order of time' }
    : undefined;
}

function missingFrom(row: ElementRow, needs: readonly Column[], because?: Text): Refusal[] {
  const missing = needs.filter((column) => !has(row, column));
  if (missing.length === 0) return [];
  const data = { missing, ...(because === undefined ? {} : { because }) };
  const hint = refusal('add-columns', 'add {columns} to the row', {
    columns: missing.map((column) => `'${column}:'`),
  });
  return because === undefined
    ? [at(row, undefined, 'needs', 'needs {missing}', { data, hint })]
    : [at(row, undefined, 'needs-because', 'needs {missing} {because}', { data, hint })];
}

function noUse(row: ElementRow, column: Column, because?: Text): Refusal {
  const hint = refusal('leave-out', 'leave it out');
  return because === undefined
    ? at(row, column, 'no-use', 'has no use for {column}', { data: { column }, hint })
    : at(row, column, 'no-use-because', 'has no use for {column} {because}', {
        data: { column, because },
        hint,
      });
}

/** @param english of what is wrong with the element, whose name stands before it */
function at(
  row: ElementRow,
  column: Column | undefined,
  id: string,
  english: string,
  { data = {}, hint }: { readonly data?: SentenceData; readonly hint?: Text } = {},
): Refusal {
  return {
    given: 'elements',
    item: row.index,
    ...(column === undefined ? {} : { column }),
    text: refusal(id, `{element} ${english}`, { element: nameRow(row), ...data }),
    ...(hint === undefined ? {} : { hint }),
  };
}

function has(row: ElementRow, column: Column): boolean {
  return column in row.values || column in row.words;
}

function columnsOf({ values, words }: ElementRow): Column[] {
  return [...(Object.keys(values) as ValueColumn[]), ...(Object.keys(words) as WordColumn[])];
}
