import type { Text } from '../sentence.ts';
import type { Put } from '../words.ts';

/** A check in one line. */
export const CHECK_WORDS = {
  'check.line': (
    d: {
      criterion: Text;
      value: Text;
      asked: Text;
      /** '>= 1.15' */
      limit: Text;
      verdict: Text;
      /** What is not given, by name. */
      missing: readonly string[];
    },
    put: Put,
  ) =>
    `${put(d.criterion)}: ${put(d.value)}, ${put(d.asked)} ${put(d.limit)}: ${put(d.verdict)}${d.missing.length > 0 ? ` (not given: ${d.missing.join(', ')})` : ''}`,
  'check.required': 'required',
  'check.recommended': 'recommended',
  'check.with-relation': (d: { relation: string; limit: Text }, put: Put) => `${d.relation} ${put(d.limit)}`,
  'check.no-value': 'no value',
  'check.no-limit': 'an unknown limit',
};
