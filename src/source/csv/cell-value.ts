/** A number, alone or with a unit behind it: '1.2', '3e3', '1,2 kV'; whether its signs are in order is for others to say. */
const NUMBER = /^([+\-−]?\d[\d.,]*(?:[eE][+-]?\d+)?)(?:\s*([\p{L}°µ%Ω].*))?$/su;

/** Whether a cell holds a number, alone or with a unit. */
export function isNumber(text: string): boolean {
  return NUMBER.test(text);
}

/** The value of a cell as an author would write it, or the unit of its own where that is not the one of its column. */
export type CellValue =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly own: string };

/** Puts number and unit of a cell together: '1.2' in a column in kV is '1.2 kV'. A text without a number is as it stands. */
export function cellValue(text: string, unit: string | undefined): CellValue {
  const [, number, own] = NUMBER.exec(text) ?? [];
  if (number === undefined || unit === undefined || own === unit) return { ok: true, text };
  return own === undefined ? { ok: true, text: `${number} ${unit}` } : { ok: false, own };
}
