import type { Sentence, Text } from '../sentence.ts';
import type { Put } from '../words.ts';

/** On what a formula, value or rule rests. */
export const BASIS_WORDS = {
  'basis.source': (d: { designation: string; clause: Sentence | string }, put: Put) =>
    `${d.designation}, ${put(d.clause)}`,
  'basis.from-memory': (d: { clause: string }) => `${d.clause} (from memory)`,
  'basis.quoted': (d: { clause: string; in: string; at: string }) =>
    `${d.clause} (as quoted in ${d.in}, ${d.at})`,
  'basis.common-practice': 'common practice',
  'basis.common-practice-of': (d: { note: Text }, put: Put) => `common practice: ${put(d.note)}`,
  'basis.derived': (d: { note: Text }, put: Put) => `derived: ${put(d.note)}`,
  'basis.no-source-of-formula': 'formula of the author, no source named',
  'basis.no-source-of-criterion': 'criterion of the author, no source named',
};
