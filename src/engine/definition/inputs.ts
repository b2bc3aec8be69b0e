import type { FormulaValue } from '../../formula/formula.ts';
import type { Quantity } from '../../quantity/quantity.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { Value } from './value.ts';

/** A given as it comes from a block, already read and judged one by one. */
export interface GivenInput {
  readonly value: Value;
  readonly source?: string;
  readonly origin: 'given' | 'default' | 'reference' | 'formula';
  /** The value was computed, here or in another block: it prints rounded in its declared unit, not as entered. */
  readonly computed?: boolean;
  /** The step that it was taken over from is printed rounded to this side: it reads the same here. */
  readonly rounded?: 'down' | 'up';
  /** For references and formulas: what was written. */
  readonly written?: string;
  readonly range?: { readonly low: Quantity; readonly high: Quantity };
}

export type Inputs = ReadonlyMap<string, GivenInput>;

/** Joins the options or names of a column, and a list of names: formulas cannot use them, solver steps take them apart again. */
export const CHOICE_SEPARATOR = '\n';

/** The values of givens as formulas see them. */
export function formulaValues(calculation: CompiledCalculation, inputs: Inputs): Map<string, FormulaValue> {
  const values = new Map<string, FormulaValue>();
  for (const [name, { value }] of inputs) {
    if (value.type === 'quantity') values.set(name, value.quantity.si);
    else if (value.type === 'choice') values.set(name, value.choice);
    else if (value.type === 'list')
      values.set(
        name,
        value.items.map((q) => q.si),
      );
    else {
      const given = calculation.givens.get(name)?.definition;
      if (given?.type === 'names') {
        values.set(name, value.rows.map((row) => row.name as string).join(CHOICE_SEPARATOR));
      }
      if (given?.type !== 'rows') continue;
      for (const [column, definition] of Object.entries(given.columns)) {
        if (definition.type !== 'quantity') {
          const options = value.rows.map((row) => (row[column] as string | undefined) ?? '');
          values.set(`${name}.${column}`, options.join(CHOICE_SEPARATOR));
          continue;
        }
        // An absent cell must not shift the list; the reader of rows lets only optional ones be absent.
        values.set(
          `${name}.${column}`,
          value.rows.map((row) => (row[column] as Quantity | undefined)?.si ?? Number.NaN),
        );
      }
    }
  }
  return values;
}
