import type { Place } from '../../diagnostics/place.ts';

/** What parts the cells of a line, in the order in which it is looked for: where a semicolon or tab does, a comma may be a decimal sign. */
export const SEPARATORS = [';', '\t', ','] as const;
export type Separator = (typeof SEPARATORS)[number];

/** A cell: its content without quotes and blanks around it, and where it stands in the text, quotes included. */
export interface CsvCell {
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

export interface CsvRow {
  /** The line of the file on which it begins, from 1; a quoted cell may run over several. */
  readonly line: number;
  /** As many as the header has. */
  readonly cells: readonly CsvCell[];
}

/** A table as an office program writes it: a header with a name for each column, then rows. */
export interface CsvTable {
  /** Relative to the project, with forward slashes. */
  readonly file: string;
  readonly separator: Separator;
  readonly header: readonly CsvCell[];
  readonly rows: readonly CsvRow[];
}

export function placeOfCell({ file }: Pick<CsvTable, 'file'>, { start, end }: CsvCell): Place {
  return { file, start, end };
}
