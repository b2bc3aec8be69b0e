import type { Datum, Text } from '../sentence.ts';
import type { Put } from '../words.ts';

/** Limiting values that are no single number, and what sets a limiting value. */
export const LIMITING_WORDS = {
  /** Before the value. */
  'limiting.largest': 'at most',
  'limiting.smallest': 'at least',
  'limiting.none': 'no value examined complies',
  'limiting.any': 'every permitted value examined complies',
  /** Where there is room for a word or two, explained beside. */
  'limiting.none-in-short': 'no value',
  'limiting.any-in-short': 'any value',
  'limiting.open-in-short': 'no limit',
  'limiting.open': 'none in the range that was examined',
  'limiting.open-above': (d: { value: Datum }, put: Put) => `no limit up to ${put(d.value)}`,
  'limiting.open-below': (d: { value: Datum }, put: Put) => `no limit down to ${put(d.value)}`,
  'limiting.stretch': (d: { from: Datum; to: Datum }, put: Put) =>
    `between ${put(d.from)} and ${put(d.to)} only`,
  'limiting.stretch-of-several': (d: { from: Datum; to: Datum }, put: Put) =>
    `between ${put(d.from)} and ${put(d.to)}; some values outside comply too`,
  'limiting.of-method': (d: { limit: Text }, put: Put) => `limit of the method: ${put(d.limit)}`,
  'limiting.no-value': 'the method gives no value there',
};
