import type { Text } from '../../words/sentence.ts';
import { ENGLISH } from '../../words/words.ts';
import type { Wording } from '../wording.ts';

type Nothing = Record<string, never>;

/** Schedules: one calculation over the rows of a table. */
export const scheduleMessages = {
  'schedule-path': (d: { text: string }): Wording => ({
    message: `'${d.text}' is not the path of a table in the project`,
    hint: 'write the path of a .csv file from the project folder, with forward slashes: data/boards.csv',
  }),
  'table-missing': (d: { path: string; nearest: string | undefined }): Wording => ({
    message: `the table '${d.path}' does not exist`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : 'paths count from the project folder',
  }),
  'not-a-count': (d: { key: string; text: string; most: number }): Wording => ({
    message: `'${d.key}' is a number of rows; '${d.text}' is none`,
    hint: `write a whole number from 0 to ${d.most}`,
  }),
  'unknown-table-column': (d: {
    column: string;
    file: string;
    nearest: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `${d.file} has no column '${d.column}'`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : `it has: ${d.known.join(', ')}`,
  }),
  'column-of-several': (d: { column: string }): Wording => ({
    message: `several columns are named '${d.column}', with different units`,
    hint: 'write the name with its unit, as in the header',
  }),
  'column-and-given': (d: { name: string }): Wording => ({
    message: `'${d.name}' has a column and is given for all rows too`,
    hint: 'leave one of them out',
  }),
  'column-twice': (d: { name: string }): Wording => ({
    message: `'${d.name}' has two columns`,
    hint: 'leave one of them out',
  }),
  'column-not-for-this': (d: { name: string }): Wording => ({
    message: `'${d.name}' is a list or a table, which a cell cannot hold`,
    hint: 'write it under given: for all rows',
  }),
  'unit-not-for-this': (d: { name: string; unit: string }): Wording => ({
    message: `'${d.name}' is a choice and has no unit '${d.unit}'`,
    hint: 'leave the unit out',
  }),
  'units-of-column': (d: { column: string; unit: string; header: string }): Wording => ({
    message: `the column '${d.column}' counts in ${d.header} by its header, and in ${d.unit} by the schedule`,
    hint: 'leave one of them out, once you know which is true',
  }),
  'unit-contradiction': (d: { text: string; column: string; unit: string }): Wording => ({
    message: `'${d.text}' is in the column '${d.column}', whose unit is ${d.unit}`,
    hint: `write the number in ${d.unit}, or the units into the cells alone`,
  }),
  'column-without-unit': (d: { column: string; name: string; unit: string }): Wording => ({
    message: `the column '${d.column}' has no unit`,
    hint: `write the unit into the header (${d.column} [${d.unit}]), into the schedule ({ column: ${d.column}, unit: ${d.unit} }) or into the cells`,
  }),
  'mixed-decimals': (d: { text: string; sign: '.' | ','; example: string }): Wording => ({
    message: `'${d.text}' has another decimal sign than the other numbers of the table, such as '${d.example}'`,
    hint: `write all with a decimal ${d.sign === ',' ? 'comma' : 'point'}, and no sign between thousands`,
  }),
  'ambiguous-decimals': (d: { text: string; count: number; decimal: string; whole: string }): Wording => ({
    message:
      d.count === 1
        ? `'${d.text}' may have decimals or be grouped by thousands, and no other number of the table shows which`
        : `'${d.text}', and ${d.count - 1} more, may have decimals or be grouped by thousands, and no other number of the table shows which`,
    hint: `write ${d.decimal} if these are decimals, or ${d.whole} if they are thousands`,
  }),
  'row-without-id': (_: Nothing): Wording => ({
    message: 'the row has no name',
    hint: 'write into this cell the name by which the row is known',
  }),
  'row-id-too-long': (d: { most: number }): Wording => ({
    message: `a row's name has at most ${d.most} characters`,
    hint: 'shorten it, or name another column in row_id',
  }),
  'row-id-reserved': (d: { id: string }): Wording => ({
    message: `'${d.id}' names the worst row in references, and can be the name of none`,
    hint: 'give the row another name',
  }),
  'doubled-row-id': (d: { id: string }): Wording => ({
    message: `two rows are named '${d.id}'`,
    hint: 'give each row a name of its own: results are compared by it',
  }),
  'rows-not-examined': (d: { most: number }): Wording => ({
    message: `${d.most} rows above are at fault: from this row on none was looked at`,
    hint: 'correct those first; what many rows have in common often lies in the header, in a unit or in the schedule',
  }),
  'unknown-case': (d: { text: string; nearest: string | undefined; known: readonly string[] }): Wording => ({
    message: `'${d.text}' is not a case`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : `write ${d.known.join(', ')}, or leave the cell empty`,
  }),
  'day-like-number': (d: { text: string; number: string }): Wording => ({
    message: `'${d.text}' begins with a nought, as a day of the calendar or a number of a part does`,
    hint: `write the number as ${d.number}; where the office program made a day of it, format the cells of this column as text`,
  }),
  'missing-cell': (d: { name: string; meaning: Text; step: Text }): Wording => ({
    message: `'${d.name}' (${ENGLISH.word(d.meaning)}) is missing in this row: it is needed for ${ENGLISH.word(d.step)}`,
    hint: 'write the value into the cell; a row for which nobody knows it cannot be computed',
  }),
  'unknown-row': (d: { id: string; row: string; nearest: string | undefined }): Wording => ({
    message: `the schedule '${d.id}' has no row '${d.row}'`,
    hint: d.nearest
      ? `did you mean '${d.nearest}'?`
      : `write ${d.id}.ROW.NAME with the name of a row, or ${d.id}.worst.NAME`,
  }),
  'unknown-of-schedule': (d: {
    id: string;
    name: string;
    nearest: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `'${d.id}' is a schedule and has no '${d.name}'`,
    hint: d.nearest
      ? `did you mean '${d.id}.${d.nearest}'?`
      : `it has: ${d.known.join(', ')}; and of each row ${d.id}.ROW.NAME`,
  }),
};
