import { type Displayed, printNumber } from '../../quantity/display.ts';
import type { Quantity } from '../../quantity/quantity.ts';
import type { Unit } from '../../quantity/unit.ts';
import { printVoltageKind } from '../../quantity/voltage-kind.ts';
import type { CompiledCalculation, CompiledGiven } from './compiled.ts';
import type { ColumnDefinition } from './definition.ts';
import type { GivenColumn, GivenTable } from './evaluated.ts';
import { ownMeaning, ownOption } from './own-text.ts';
import type { Value } from './value.ts';

type Cell = Quantity | string | undefined;

/** A table as it is printed, of a value whose voltages and currents have their kinds; undefined for all else, and without rows. */
export function showTable(
  calculation: CompiledCalculation,
  given: CompiledGiven,
  value: Value,
  show: (quantity: Quantity, unit: Unit) => Displayed,
): GivenTable | undefined {
  const { definition, columnUnits } = given;
  if (definition.type !== 'rows' || value.type !== 'rows' || value.rows.length === 0) return undefined;
  const columns = Object.entries(definition.columns).flatMap(([name, column]) => {
    const cells = value.rows.map((row) => row[name]);
    if (cells.every((cell) => cell === undefined)) return [];
    const meaning = ownMeaning(calculation, `${given.name}.${name}`);
    const showOne = (quantity: Quantity) => show(quantity, columnUnits.get(name)!);
    return [
      { name, meaning, ...showColumn(column, cells, showOne), ...sayChosen(calculation, given, name, cells) },
    ];
  });
  const several = value.rows.length > 1 ? 'number' : 'nothing';
  return { columns, rowsBy: startsWithName(given) ? 'name' : several };
}

function sayChosen(
  calculation: CompiledCalculation,
  { name, definition }: CompiledGiven,
  column: string,
  cells: readonly Cell[],
): Pick<GivenColumn, 'chosen'> {
  if (definition.type !== 'rows' || definition.columns[column]?.type !== 'choice') return {};
  const chosen = cells.map((cell) =>
    typeof cell === 'string' ? ownOption(calculation, `${name}.${column}`, cell) : undefined,
  );
  return { chosen };
}

/** Rows that the author names need no number. */
export function startsWithName({ definition }: CompiledGiven): boolean {
  return definition.type === 'rows' && Object.values(definition.columns)[0]?.type === 'name';
}

function showColumn(
  definition: ColumnDefinition,
  cells: readonly Cell[],
  show: (quantity: Quantity) => Displayed,
): Omit<GivenColumn, 'name' | 'meaning' | 'chosen'> {
  const shown = cells.map((cell) => showCell(cell, show));
  const units = new Set(shown.flatMap(({ unit }) => unit ?? []));
  const [unit = ''] = units.size === 1 ? units : [];
  return {
    symbol: definition.type === 'name' ? '' : definition.symbol,
    unit,
    cells: shown.map((cell) =>
      units.size > 1 ? `${cell.number}\u00a0${cell.unit ?? ''}`.trim() : cell.number,
    ),
  };
}

/** A number apart from its unit and kind; words have none. */
function showCell(
  cell: Cell,
  show: (quantity: Quantity) => Displayed,
): { readonly number: string; readonly unit?: string } {
  if (cell === undefined || typeof cell === 'string') return { number: cell ?? '' };
  const { number: digits, unit } = show(cell);
  const number = printNumber(digits);
  const said = [unit.print, printVoltageKind(cell.kind)].filter((part) => part !== '');
  return { number, unit: said.join(' ') };
}
