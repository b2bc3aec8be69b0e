import type { FormulaValue } from '../../formula/formula.ts';
import { fromSi } from '../../quantity/quantity.ts';
import type { Unit } from '../../quantity/unit.ts';

const SHOWN_ITEMS = 4;

/** 'rail_lead = 1 m, currents = 5 kA; 10 kA; ... (130 items)': the values from which something was to be computed. */
export function wordOperands(
  names: readonly string[],
  values: ReadonlyMap<string, FormulaValue>,
  unitOf: (name: string) => Unit,
): string {
  return names
    .flatMap((name) => {
      const value = values.get(name);
      return value === undefined ? [] : [`${name} = ${wordValue(value, unitOf(name))}`];
    })
    .join(', ');
}

function wordValue(value: FormulaValue, unit: Unit): string {
  if (typeof value === 'number') return wordNumber(value, unit);
  // A cell that is not written stands as NaN in its column.
  const word = (item: number | string) =>
    typeof item === 'string' ? item : Number.isNaN(item) ? '-' : wordNumber(item, unit);
  const items = typeof value === 'string' ? [value] : value.map(word);
  if (items.length <= SHOWN_ITEMS) return items.join('; ');
  return `${items.slice(0, SHOWN_ITEMS - 1).join('; ')}; ... (${items.length} items)`;
}

function wordNumber(si: number, unit: Unit): string {
  const text = String(Number(fromSi(si, unit).toPrecision(6)));
  return unit.text === '1' ? text : `${text} ${unit.text}`;
}
