import type { Wording } from '../wording.ts';

/** Schedules: one calculation over the rows of a table. */
export const scheduleMessages = {
  'schedule-path': (d: { text: string }): Wording => ({
    message: `'${d.text}' is not the path of a table in the project`,
    hint: 'write the path of a .csv file from the project folder, with forward slashes: data/boards.csv',
  }),
  'not-a-count': (d: { key: string; text: string; most: number }): Wording => ({
    message: `'${d.key}' is a number of rows; '${d.text}' is none`,
    hint: `write a whole number from 0 to ${d.most}`,
  }),
};
