import type { Datum, Text } from '../sentence.ts';
import type { Put } from '../words.ts';

/** What is to be done, where no author says it. */
export const ACTION_WORDS = {
  'action.instead-of': (d: { meaning: Text; now: Datum; before: Datum }, put: Put) =>
    `${put(d.meaning)}: ${put(d.now)} instead of ${put(d.before)}`,
  'action.is-added': (d: { meaning: Text; now: Datum }, put: Put) => `${put(d.meaning)}: ${put(d.now)}`,
  'action.other-rows': (d: { meaning: Text }, put: Put) => `${put(d.meaning)}: as the table there says`,
  'action.is-left-out': (d: { meaning: Text }, put: Put) => `without ${put(d.meaning)}`,
  'action.find-out': (d: { what: readonly Text[] }, put: Put) =>
    `To be determined: ${d.what.map(put).join('; ')}`,
  'action.judge-otherwise': (d: { criterion: Text }, put: Put) =>
    `To be judged by other means, since the calculation gives no value to compare: ${put(d.criterion)}`,
};
