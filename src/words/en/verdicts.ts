import type { Datum } from '../sentence.ts';
import type { Put } from '../words.ts';

/** Verdicts: those of requirements, those of recommendations, and that of either where it cannot be judged. */
export const VERDICT_WORDS = {
  'verdict.complies': 'complies',
  'verdict.does-not-comply': 'does not comply',
  'verdict.cannot-be-judged': 'cannot be judged',
  'verdict.met': 'met',
  'verdict.not-met': 'not met',
  'verdict.over-part-only': (d: { verdict: Datum }, put: Put) =>
    `${put(d.verdict)}, met over a part of the range only`,
  'verdict.at-the-limit': (d: { verdict: Datum }, put: Put) => `${put(d.verdict)}, at the limit`,
};
