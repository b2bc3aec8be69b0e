import type { Datum, Sentence, Text } from '../sentence.ts';
import type { Put } from '../words.ts';

/** What stands in place of a formula. */
export const STEP_WORDS = {
  /** What a given is needed for. */
  'step.whole': 'the whole calculation',
  'step.as-given': 'as given',
  'step.from-table': (d: { keys: readonly Sentence[] }, put: Put) =>
    `from the table, by ${d.keys.map(put).join('; ')}`,
  /** Of a symbol that enters an empirical formula as a number: in which unit it counts. */
  'step.number-in': (d: { unit: string }) => `in ${d.unit}`,
  'step.pure-number': 'as a number',
  'step.key': (d: { meaning: Text; options: readonly Datum[] }, put: Put) =>
    `${put(d.meaning)}: ${d.options.map(put).join('; ')}`,
};
