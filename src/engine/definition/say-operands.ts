import type { FormulaValue } from '../../formula/formula.ts';
import { fromSi } from '../../quantity/quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import { type Sentence, say } from '../../words/sentence.ts';

const SHOWN_ITEMS = 4;

/** The values from which something was to be computed: 'rail_lead = 1 m, currents = 5 kA; 10 kA; ... (130 items)'. */
export function sayOperands(
  names: readonly string[],
  values: ReadonlyMap<string, FormulaValue>,
  unitOf: (name: string) => Unit,
): Sentence {
  const operands = names.flatMap((name) => {
    const value = values.get(name);
    return value === undefined ? [] : [sayOperand(name, listItems(value, unitOf(name)))];
  });
  return say('operand.list', { operands });
}

function sayOperand(name: string, items: readonly string[]): Sentence {
  if (items.length <= SHOWN_ITEMS) return say('operand.whole', { name, items });
  return say('operand.shortened', { name, items: items.slice(0, SHOWN_ITEMS - 1), count: items.length });
}

function listItems(value: FormulaValue, unit: Unit): readonly string[] {
  if (typeof value === 'number') return [writeNumber(value, unit)];
  if (typeof value === 'string') return [value];
  // A cell that is not written stands as NaN in its column.
  return value.map((item) =>
    typeof item === 'string' ? item : Number.isNaN(item) ? '-' : writeNumber(item, unit),
  );
}

function writeNumber(si: number, unit: Unit): string {
  const text = String(Number(fromSi(si, unit).toPrecision(6)));
  return unit.text === '1' ? text : `${text} ${unit.text}`;
}
