import type { FormulaValue } from '../../formula/formula.ts';
import type { Quantity } from '../../quantity/quantity.ts';
import type { Text } from '../../words/sentence.ts';
import type { Basis } from './basis.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { RowsGiven } from './definition.ts';
import type { Value } from './value.ts';

/** An item of a project's register: a piece of equipment, a soil. */
export interface RegisterItem {
  /** For readers: 'SPD1, main board MB, rail-mounted, type 2' */
  readonly title: string;
  /** The file of the register where it stands, if not in project.yaml. */
  readonly file?: string;
}

/** A given as it comes from a block, already read and judged one by one. */
export interface GivenInput {
  readonly value: Value;
  readonly source?: Text;
  /** Of a default: on what it rests. */
  readonly basis?: Basis;
  readonly origin: 'given' | 'default' | 'reference' | 'formula';
  /** The value was computed, here or in another block: it prints rounded, not as entered. */
  readonly computed?: boolean;
  /** The step that it was taken over from is printed rounded to this side: it reads the same here. */
  readonly rounded?: 'down' | 'up';
  /** Significant digits with which it is printed where it was taken over from, where these are more than the usual ones. */
  readonly digits?: number;
  /** For references and formulas: what was written. */
  readonly written?: string;
  /** Of a value that an item of the register fills: whose it is. */
  readonly item?: RegisterItem;
  readonly range?: { readonly low: Quantity; readonly high: Quantity };
}

export type Inputs = ReadonlyMap<string, GivenInput>;

/** The values of givens as formulas see them. */
export function formulaValues(calculation: CompiledCalculation, inputs: Inputs): Map<string, FormulaValue> {
  const values = new Map<string, FormulaValue>();
  for (const [name, { value }] of inputs) {
    if (value.type === 'quantity') values.set(name, value.quantity.si);
    else if (value.type === 'choice') values.set(name, value.choice);
    else if (value.type === 'list') {
      const items = value.items.map((quantity) => quantity.si);
      values.set(name, items);
    } else {
      const given = calculation.givens.get(name)?.definition;
      const names = value.rows.map((row) => row.name as string);
      if (given?.type === 'names') values.set(name, names);
      if (given?.type === 'rows') addColumns(values, name, given, rowsAsCounted(given, value.rows, inputs));
    }
  }
  return values;
}

type Rows = readonly Readonly<Record<string, Quantity | string>>[];

function addColumns(values: Map<string, FormulaValue>, name: string, given: RowsGiven, rows: Rows): void {
  for (const [column, definition] of Object.entries(given.columns)) {
    const cells = rows.map((row) => row[column]);
    // An absent cell must not shift the list; the reader of rows lets only optional ones be absent.
    const list =
      definition.type === 'quantity'
        ? cells.map((cell) => (cell as Quantity | undefined)?.si ?? Number.NaN)
        : cells.map((cell) => (cell as string | undefined) ?? '');
    values.set(`${name}.${column}`, given.single ? list[0]! : list);
  }
}

/** The one row of a table beside another stands for each row of that one. */
function rowsAsCounted({ alongside }: RowsGiven, rows: Rows, inputs: Inputs): Rows {
  const other = alongside === undefined ? undefined : inputs.get(alongside)?.value;
  if (other?.type !== 'rows' || rows.length !== 1) return rows;
  return other.rows.map(() => rows[0]!);
}
