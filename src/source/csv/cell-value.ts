import type { Separator } from './csv-table.ts';

/** A number, alone or with a unit behind it: '1.2', '3e3', '1,2 kV'. */
const NUMBER = /^([+\-−]?\d+(?:[.,]\d+)?(?:[eE][+-]?\d+)?)(?:(\s*)([\p{L}°µ%Ω].*))?$/su;

/** The value of a cell as an author would write it, or the unit of its own where that is not the one of its column. */
export type CellValue =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly own: string };

/**
 * Puts number and unit of a cell together: '1.2' in a column in kV is '1.2 kV'. Where something other than commas separates the
 * cells, a comma in a number is a decimal sign; else it stays, and whoever reads the value refuses it. A text without a number is
 * as it stands.
 */
export function cellValue(written: string, unit: string | undefined, separator: Separator): CellValue {
  const [, number, blank = '', own] = NUMBER.exec(written) ?? [];
  if (number === undefined) return { ok: true, text: written };
  const decimal = separator === ',' ? number : number.replace(',', '.');
  if (own === undefined) return { ok: true, text: unit === undefined ? decimal : `${decimal} ${unit}` };
  if (unit !== undefined && own !== unit) return { ok: false, own };
  return { ok: true, text: `${decimal}${blank}${own}` };
}
