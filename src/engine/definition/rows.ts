import { type Problem, problem } from '../../diagnostics/problem.ts';
import type { FormulaValue, RowIndex, RowPoint } from '../../formula/formula.ts';
import type { RowNumbers } from '../../words/sentence.ts';
import type { CompiledCalculation } from './compiled.ts';
import type { GivenDefinition, RowsGiven } from './definition.ts';
import type { Inputs } from './inputs.ts';

/** The running index of a table that names none. */
const USUAL_INDEX = 'i';

/** With the rows of which table the columns of a table count, and the letter of their index. */
export function rowIndexOf(
  givens: Readonly<Record<string, GivenDefinition>>,
  name: string,
): RowIndex | undefined {
  const given = givens[name];
  if (given?.type !== 'rows' || given.single) return undefined;
  if (given.alongside !== undefined) return rowIndexOf(givens, given.alongside);
  return { table: name, index: given.index ?? USUAL_INDEX };
}

/** Whether a table may be left out of a block. */
export function mayBeLeftOut(given: RowsGiven): boolean {
  if (given.least === 0) return true;
  return given.single === true && Object.values(given.columns).every(hasDefault);
}

function hasDefault(column: RowsGiven['columns'][string]): boolean {
  return column.optional === true || ('default' in column && column.default !== undefined);
}

/** How many rows a table has. */
function countRows(
  calculation: CompiledCalculation,
  table: string,
  values: ReadonlyMap<string, FormulaValue>,
): number {
  const given = calculation.givens.get(table)?.definition;
  const [column] = given?.type === 'rows' ? Object.keys(given.columns) : [];
  const list = values.get(`${table}.${column}`);
  return typeof list === 'object' ? list.length : 0;
}

const NO_ROW: readonly RowPoint[] = [new Map()];

/** Each row of a table, as formulas are taken at it; of no table the one point at no row. */
export function pointsOver(
  calculation: CompiledCalculation,
  table: string | undefined,
  values: ReadonlyMap<string, FormulaValue>,
): readonly RowPoint[] {
  if (table === undefined) return NO_ROW;
  return Array.from({ length: countRows(calculation, table, values) }, (_, row) => new Map([[table, row]]));
}

/** The numbers of rows, counted from one, for a sentence that is said of them. */
export function rowNumbers(points: readonly RowPoint[]): RowNumbers {
  return { type: 'rows', numbers: points.flatMap((rows) => [...rows.values()].map((row) => row + 1)) };
}

/** Tables with a number of rows that they cannot have: more than the one, or other than that of the table they stand beside. */
export function judgeRows(
  calculation: CompiledCalculation,
  inputs: Inputs,
): { readonly given: string; readonly problem: Problem }[] {
  return [...calculation.givens].flatMap(([name, { definition }]) => {
    const value = inputs.get(name)?.value;
    if (definition.type !== 'rows' || value?.type !== 'rows') return [];
    const found = value.rows.length;
    const { single, alongside } = definition;
    if (single && found !== 1) return [{ given: name, problem: problem('one-row', { name, found }) }];
    const other = alongside === undefined ? undefined : inputs.get(alongside)?.value;
    if (alongside === undefined || other?.type !== 'rows' || found === 1) return [];
    const expected = other.rows.length;
    if (found === expected) return [];
    return [{ given: name, problem: problem('rows-alongside', { name, found, alongside, expected }) }];
  });
}

/** Whether a value is one number for each item. */
export function isNumbers(value: FormulaValue): value is readonly number[] {
  return typeof value === 'object' && value.every((item) => typeof item === 'number');
}

export function isWords(value: FormulaValue): value is readonly string[] {
  return typeof value === 'object' && value.every((item) => typeof item === 'string');
}
