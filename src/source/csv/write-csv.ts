import type { Separator } from './csv-table.ts';

/** Writes rows of cells as a table that `readCsv` and office programs read: quotes only where a cell needs them, lines ended by CRLF. */
export function writeCsv(rows: readonly (readonly string[])[], separator: Separator = ','): string {
  return rows.map((cells) => `${cells.map((cell) => quote(cell, separator)).join(separator)}\r\n`).join('');
}

function quote(cell: string, separator: Separator): string {
  const plain = !cell.includes(separator) && !/["\r\n]|^\s|\s$/.test(cell);
  return plain ? cell : `"${cell.replaceAll('"', '""')}"`;
}
