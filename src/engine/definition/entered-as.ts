import { areEqual } from '../../formula/compare-values.ts';
import type { Node } from '../../formula/formula.ts';
import { fromSi, type Quantity, quantity } from '../../quantity/quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import type { Inputs } from './inputs.ts';
import type { ShowContext } from './show-step.ts';
import { hasFewDigits } from './written-digits.ts';

/**
 * The quantity that an author entered where a name stands for it: a given, or a step that hands on one unchanged, by itself or as the largest
 * or smallest of several. It is printed as it was entered wherever it stands: 20 % is not 20.0 % behind the sign of equality. Undefined of what
 * is computed.
 */
export function enteredAs(
  context: ShowContext,
  name: string,
  index: number | undefined,
): Quantity | undefined {
  const root = context.state.variants.get(name)?.formula.root;
  if (!root) return enteredQuantity(context.inputs, name, index);
  const value = context.state.values.get(name);
  const si = typeof value === 'object' ? value[index ?? 0] : value;
  const unit = context.calculation.steps.find((step) => step.name === name)?.unit;
  if (typeof si !== 'number' || !unit) return undefined;
  const entered = handedOn(context, root, index).find((one) => areEqual(si, one.si));
  return entered && inUnit(entered, unit);
}

/** What was entered among that of which a formula hands on one. */
function handedOn(context: ShowContext, node: Node, index: number | undefined): readonly Quantity[] {
  if (node.type === 'call' && (node.function === 'max' || node.function === 'min')) {
    return node.arguments.flatMap((one) => (one.type === 'name' ? everyEntered(context, one.name) : []));
  }
  const entered = node.type === 'name' ? enteredAs(context, node.name, index ?? 0) : undefined;
  return entered ? [entered] : [];
}

/** Of a list what was entered in any of its rows. */
function everyEntered(context: ShowContext, name: string): readonly Quantity[] {
  const value = context.state.values.get(name);
  const rows = typeof value === 'object' ? value.length : 1;
  return Array.from({ length: rows }, (_, row) => enteredAs(context, name, row)).filter(
    (one) => one !== undefined,
  );
}

/** The same number in another unit, where that has no more digits than somebody may have written. */
function inUnit(entered: Quantity, unit: Unit): Quantity | undefined {
  if (entered.unit.text === unit.text) return entered;
  const value = fromSi(entered.si, unit);
  return hasFewDigits(value) ? quantity(value, unit, entered.kind) : undefined;
}

/** Of a given alone: the quantity as its author entered it. */
function enteredQuantity(inputs: Inputs, name: string, index: number | undefined): Quantity | undefined {
  const [given, column] = name.split('.');
  const input = inputs.get(given!);
  if (!input || input.computed) return undefined;
  const { value } = input;
  if (value.type === 'quantity') return value.quantity;
  if (value.type === 'list') return value.items[index!];
  if (value.type !== 'rows') return undefined;
  // A single row is that of every item.
  const row = value.rows.length === 1 ? value.rows[0] : value.rows[index!];
  const cell = row?.[column!];
  return typeof cell === 'object' ? cell : undefined;
}
