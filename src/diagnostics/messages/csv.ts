import type { Wording } from '../wording.ts';

type Nothing = Record<string, never>;

/** Tables of an office program. */
export const csvMessages = {
  'csv-empty': (_: Nothing): Wording => ({
    message: 'the table is empty',
    hint: 'write a header with the names of the columns, then a line for each row',
  }),
  'csv-without-rows': (_: Nothing): Wording => ({
    message: 'the table has a header and no rows',
    hint: 'write a line for each row below it',
  }),
  'csv-too-long': (d: { most: number }): Wording => ({
    message: `the table has more than ${d.most} rows`,
    hint: 'divide it into several files, each with its schedule',
  }),
  'csv-too-wide': (d: { width: number; most: number }): Wording => ({
    message: `the table has ${d.width} columns; it may have at most ${d.most}`,
    hint: 'leave out columns that the schedule does not need',
  }),
  'csv-nul': (_: Nothing): Wording => ({
    message: 'this is not plain text: it contains the character NUL',
    hint: 'save the table in the office program as "CSV UTF-8"',
  }),
  'csv-not-utf8': (_: Nothing): Wording => ({
    message: 'the table is not UTF-8 from here on',
    hint: 'save it in the office program as "CSV UTF-8", or choose UTF-8 as its character set',
  }),
  'csv-open-quote': (_: Nothing): Wording => ({
    message: 'the quote that opens here is not closed',
    hint: 'close it at the end of the cell; a quote within a quoted cell is written twice',
  }),
  'csv-stray-quote': (_: Nothing): Wording => ({
    message: 'there is a quote within a cell',
    hint: 'put the whole cell in quotes, and write a quote within it twice: "6"" conduit"',
  }),
  'csv-nameless-column': (_: Nothing): Wording => ({
    message: 'this cell is in a column without a name',
    hint: 'write a name for it into the header',
  }),
  'csv-doubled-column': (d: { name: string }): Wording => ({
    message: `two columns are named '${d.name}'`,
    hint: 'give each column a name of its own',
  }),
  'csv-blank-row': (_: Nothing): Wording => ({
    message: 'there is a blank row between the others',
    hint: 'fill it in, or remove it',
  }),
  'csv-short-row': (d: { cells: number; header: number }): Wording => ({
    message: `the row has ${d.cells} ${d.cells === 1 ? 'cell' : 'cells'}, the header ${d.header}`,
    hint: 'write a separator for each cell that stays empty',
  }),
  'csv-long-row': (d: { cells: number; header: number }): Wording => ({
    message: `the row has ${d.cells} cells, the header ${d.header}`,
    hint: 'put a cell that holds the separator in quotes, or name the further column in the header',
  }),
};
