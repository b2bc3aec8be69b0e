import type { SolverValues } from '../../definition/definition.ts';
import { piecewiseLinear, triangle } from '../../physics/piecewise-linear.ts';
import { stepWaveform, type Waveform } from '../../physics/waveform.ts';
import { earthNode, type SurgeElement } from '../../transient/element.ts';
import { arrester } from '../../transient/elements/arrester.ts';
import { capacitor } from '../../transient/elements/capacitor.ts';
import { currentSource } from '../../transient/elements/current-source.ts';
import { incomingWave } from '../../transient/elements/incoming-wave.ts';
import { inductor } from '../../transient/elements/inductor.ts';
import { line } from '../../transient/elements/line.ts';
import { resistor } from '../../transient/elements/resistor.ts';
import { voltageSource } from '../../transient/elements/voltage-source.ts';

/** Columns of a row that hold its values, as numbers in SI. */
export const VALUE_COLUMNS = [
  'surge_impedance',
  'length',
  'velocity',
  'resistance',
  'inductance',
  'capacitance',
  'residual_voltage',
  'residual_current',
  'exponent',
  'peak_voltage',
  'peak_current',
  'front_time',
  'half_value_time',
] as const;

export type ValueColumn = (typeof VALUE_COLUMNS)[number];
export type ElementType = 'line' | 'cable' | 'resistor' | 'inductor' | 'capacitor' | 'arrester' | 'source';

/** A row of the table of elements: its values in SI, those that are not written absent. */
export interface ElementRow {
  readonly row: number;
  readonly name: string;
  readonly type: ElementType;
  readonly from: string;
  readonly to: string;
  /** Empty where it is not written. */
  readonly sheath: string;
  readonly values: Readonly<Partial<Record<ValueColumn, number>>>;
}

/** What each type needs and what else it may have. */
const COLUMNS: Readonly<
  Record<ElementType, { readonly needs: readonly ValueColumn[]; readonly may?: readonly ValueColumn[] }>
> = {
  line: { needs: ['surge_impedance', 'length', 'velocity'] },
  cable: { needs: ['surge_impedance', 'length', 'velocity'] },
  resistor: { needs: ['resistance'] },
  inductor: { needs: ['inductance'] },
  capacitor: { needs: ['capacitance'] },
  arrester: { needs: ['residual_voltage', 'residual_current', 'exponent'] },
  source: {
    needs: [],
    may: ['peak_voltage', 'peak_current', 'surge_impedance', 'front_time', 'half_value_time'],
  },
};

export function readElementRows(values: SolverValues): ElementRow[] {
  const words = (column: string) => values.choices(`elements.${column}`);
  const [types, from, to, sheaths] = ['type', 'from', 'to', 'sheath'].map(words);
  const numbers = VALUE_COLUMNS.map((column) => [column, values.list(`elements.${column}`)] as const);
  return words('name').map((name, i) => ({
    row: i + 1,
    name,
    type: types![i] as ElementType,
    from: from![i]!,
    to: to![i]!,
    sheath: sheaths![i]!,
    values: Object.fromEntries(
      numbers.flatMap(([column, list]) => (Number.isNaN(list[i]!) ? [] : [[column, list[i]!]])),
    ),
  }));
}

/** An element as messages call it: 'SA1' (arrester, row 3); with every row that bears the name. */
export function nameRows(rows: readonly ElementRow[], name: string): string {
  const own = rows.filter((row) => row.name === name);
  return `'${name}' (${own.map(({ type, row }) => `${type}, row ${row}`).join('; ')})`;
}

/** What is missing from a row or has no place in it, in words. */
export function faultsOfRow({ row, name, type, sheath, values }: ElementRow): string[] {
  const { needs, may = [] } = COLUMNS[type];
  const own = `'${name}' (${type}, row ${row})`;
  const missing = needs.filter((column) => values[column] === undefined);
  const strange = (Object.keys(values) as ValueColumn[]).filter(
    (column) => !needs.includes(column) && !may.includes(column),
  );
  const faults = [
    ...missing.map((column) => `${own} needs ${column}`),
    ...strange.map((column) => `${own} has no use for ${column}`),
  ];
  if (sheath !== '' && type !== 'cable') faults.push(`${own} has no use for sheath`);
  if (type === 'source') faults.push(...faultsOfSource(own, values));
  return faults;
}

function faultsOfSource(own: string, values: ElementRow['values']): string[] {
  const { peak_voltage, peak_current, surge_impedance, front_time, half_value_time } = values;
  const faults: string[] = [];
  if ((peak_voltage === undefined) === (peak_current === undefined)) {
    faults.push(`${own} needs exactly one of peak_voltage and peak_current`);
  }
  if (surge_impedance !== undefined && peak_current !== undefined) {
    faults.push(`${own} has no use for surge_impedance beside peak_current: write a resistor`);
  }
  if (half_value_time !== undefined && half_value_time <= (front_time ?? 0)) {
    faults.push(`${own}: half_value_time must be longer than front_time`);
  }
  return faults;
}

/** The element of a faultless row. */
export function elementOfRow(element: ElementRow): SurgeElement {
  const { name, type, from, to, values } = element;
  const ends = { name, from, to };
  const value = (column: ValueColumn): number => values[column]!;
  switch (type) {
    case 'line':
    case 'cable': {
      const reference = element.sheath === '' ? earthNode : element.sheath;
      return line({
        ...ends,
        surgeImpedance: value('surge_impedance'),
        delay: value('length') / value('velocity'),
        fromReference: reference,
        toReference: reference,
      });
    }
    case 'resistor':
      return resistor({ ...ends, resistance: value('resistance') });
    case 'inductor':
      return inductor({ ...ends, inductance: value('inductance') });
    case 'capacitor':
      return capacitor({ ...ends, capacitance: value('capacitance') });
    case 'arrester': {
      const exponent = value('exponent');
      const coefficient = value('residual_current') / value('residual_voltage') ** exponent;
      return arrester({ ...ends, characteristic: { exponent, coefficient } });
    }
    case 'source':
      return sourceOfRow(element);
  }
}

/** With a surge impedance the end of a long line on which the wave arrives, else an ideal source. */
function sourceOfRow({ name, from, to, values }: ElementRow): SurgeElement {
  const { peak_voltage, peak_current, surge_impedance } = values;
  // A source delivers into `from`: its current flows within it from `to` to `from`.
  if (peak_voltage === undefined) {
    return currentSource({ name, from: to, to: from, waveform: waveformOf(peak_current!, values) });
  }
  const waveform = waveformOf(peak_voltage, values);
  return surge_impedance === undefined
    ? voltageSource({ name, from, to, waveform })
    : incomingWave({ name, node: from, reference: to, surgeImpedance: surge_impedance, waveform });
}

/** Straight front and tail; without a front a jump, without a tail a constant value after the front. */
function waveformOf(peak: number, { front_time, half_value_time }: ElementRow['values']): Waveform {
  if (half_value_time === undefined) {
    return front_time === undefined
      ? stepWaveform(peak)
      : piecewiseLinear([
          [0, 0],
          [front_time, peak],
        ]);
  }
  if (front_time !== undefined) return triangle(peak, front_time, half_value_time);
  return piecewiseLinear([
    [0, peak],
    [2 * half_value_time, 0],
  ]);
}
