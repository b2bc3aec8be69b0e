import type { Quantity } from '../../quantity/quantity.ts';
import { readQuantity } from '../../quantity/read-quantity.ts';
import { type Basis, sayBasis } from './basis.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { RowsGiven } from './definition.ts';
import type { GivenInput, Inputs } from './inputs.ts';
import { mayBeLeftOut } from './rows.ts';

/** The default of a given, where it has one. */
export function defaultOf(calculation: CompiledCalculation, name: string) {
  const given = calculation.givens.get(name)?.definition;
  return given && 'default' in given ? given.default : undefined;
}

/** The givens as written, and defaults for the rest; none for a given whose alternative is written. A table that may be left out has no rows, or its one row of defaults. */
export function withDefaults(calculation: CompiledCalculation, written: Inputs): Inputs {
  const displaced = new Set(
    calculation.alternatives.flatMap(({ oneOf }) => (oneOf.some((name) => written.has(name)) ? oneOf : [])),
  );
  const inputs = new Map<string, GivenInput>();
  for (const [name, given] of calculation.givens) {
    const input = written.get(name);
    if (input) inputs.set(name, input);
    else if (!displaced.has(name)) {
      const fallback = defaultOf(calculation, name);
      if (given.definition.type === 'rows') {
        if (mayBeLeftOut(given.definition)) inputs.set(name, defaultRows(given.definition));
      } else if (fallback)
        inputs.set(name, defaultInput(given.definition.type, fallback.value, fallback.basis));
    }
  }
  return inputs;
}

function defaultInput(type: string, text: string, basis: Basis): GivenInput {
  const known = { source: sayBasis(basis), basis, origin: 'default' } as const;
  if (type === 'choice') return { value: { type: 'choice', choice: text }, ...known };
  return { value: { type: 'quantity', quantity: readDefault(text) }, ...known };
}

function readDefault(text: string): Quantity {
  const reading = readQuantity(text);
  if (!reading.ok) throw new Error(`default '${text}' is not a quantity`);
  return reading.value;
}

function defaultRows(given: RowsGiven): GivenInput {
  return { value: { type: 'rows', rows: given.single ? [defaultRow(given)] : [] }, origin: 'default' };
}

function defaultRow({ columns }: RowsGiven): Record<string, Quantity | string> {
  return Object.fromEntries(
    Object.entries(columns).flatMap(([column, definition]): [string, Quantity | string][] => {
      const text = 'default' in definition ? definition.default?.value : undefined;
      if (text === undefined) return [];
      return [[column, definition.type === 'choice' ? text : readDefault(text)]];
    }),
  );
}
