import { nearestName } from '../../diagnostics/nearest-name.ts';
import type { Place } from '../../diagnostics/place.ts';
import { problem } from '../../diagnostics/problem.ts';
import type { ColumnDefinition, RowsGiven } from '../../engine/definition/definition.ts';
import type { GivenInput } from '../../engine/definition/inputs.ts';
import type { Quantity } from '../../quantity/quantity.ts';
import { readQuantity } from '../../quantity/read-quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import type { SourceNode } from '../../source/source-node.ts';
import type { InputContext } from './input-context.ts';
import { readChoiceInput } from './read-choice-input.ts';
import { readName } from './read-names-input.ts';
import { readQuantityInput } from './read-quantity-input.ts';

type Cell = Quantity | string;
type Row = Readonly<Record<string, Cell>>;

/** A table: a list of rows with the columns that the definition names. Undefined where a cell is at fault. */
export function readRowsInput(
  context: InputContext,
  name: string,
  definition: RowsGiven,
  units: ReadonlyMap<string, Unit>,
  node: SourceNode,
): GivenInput | undefined {
  if (node.type !== 'list') {
    const expected = `a list of rows, each with ${Object.keys(definition.columns).join(', ')}`;
    return context.fail(problem('wrong-shape', { name, expected }), node.place);
  }
  const least = definition.least ?? 1;
  if (node.items.length < least) {
    return context.fail(problem('too-few-items', { name, least, found: node.items.length }), node.place);
  }
  const rows = node.items.flatMap((item): Row[] => {
    const row = readRow(context, name, definition, units, item);
    return row ? [row] : [];
  });
  return rows.length < node.items.length ? undefined : { value: { type: 'rows', rows }, origin: 'given' };
}

function readRow(
  context: InputContext,
  name: string,
  { columns }: RowsGiven,
  units: ReadonlyMap<string, Unit>,
  node: SourceNode,
): Row | undefined {
  const known = Object.keys(columns);
  if (node.type !== 'map') {
    const expected = `rows with ${known.join(', ')}`;
    return context.fail(problem('wrong-shape', { name, expected }), node.place);
  }
  const unknown = node.entries.filter(({ key }) => !known.includes(key));
  for (const { key, keyPlace } of unknown) {
    const nearest = nearestName(key, known);
    context.fail(problem('unknown-column', { name, column: key, nearest, known }), keyPlace);
  }
  const row: Record<string, Cell> = {};
  let complete = unknown.length === 0;
  for (const [column, definition] of Object.entries(columns)) {
    const entry = node.entries.find(({ key }) => key === column);
    if (!entry && definition.optional) continue;
    const cell = entry
      ? readCell(context, `${name}.${column}`, definition, units.get(column), entry.value)
      : defaultCell(context, name, column, definition, node.place);
    if (cell === undefined) complete = false;
    else row[column] = cell;
  }
  return complete ? row : undefined;
}

function readCell(
  context: InputContext,
  name: string,
  definition: ColumnDefinition,
  unit: Unit | undefined,
  node: SourceNode,
): Cell | undefined {
  if (definition.type === 'name') return readName(context, name, node);
  if (definition.type === 'choice') {
    const read = readChoiceInput(context, name, definition, node);
    return read?.value.type === 'choice' ? read.value.choice : undefined;
  }
  return readQuantityInput(context, { name, definition, unit: unit! }, node)?.value.quantity;
}

function defaultCell(
  context: InputContext,
  name: string,
  column: string,
  definition: ColumnDefinition,
  place: Place,
): Cell | undefined {
  if ('default' in definition && definition.default) {
    if (definition.type === 'choice') return definition.default.value;
    const reading = readQuantity(definition.default.value);
    if (reading.ok) return reading.value;
  }
  return context.fail(problem('missing-column', { name, column, meaning: definition.meaning }), place);
}
