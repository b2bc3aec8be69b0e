import type { Datum, Sentence, Text } from '../sentence.ts';
import type { Put } from '../words.ts';

/** Cautions that the engine gives by itself. */
export const CAUTION_WORDS = {
  'caution.within-ranges': (d: { text: Text }, put: Put) => `Within the stated ranges: ${put(d.text)}`,
  'caution.outside-usual': (d: { meaning: Text; usual: Sentence; because: Text }, put: Put) =>
    `The ${put(d.meaning)} is outside its usual range (${put(d.usual)}): ${put(d.because)}.`,
  'caution.outside-validity': (d: { text: Text }, put: Put) => `Outside the usual validity: ${put(d.text)}.`,
  'caution.figure-left-out':
    'The figure of this calculation is left out: its values are beyond what can be drawn.',
  'caution.ranges-not-carried': (d: { givens: readonly Text[] }, put: Put) =>
    `Taken over as a single value, although it varies over a range in the calculation from which it comes: ${d.givens.map(put).join('; ')}. The verdicts here apply to that value only; ranges stated here are judged in full.`,
  'usual.range': (d: { from?: Datum; above?: Datum; to?: Datum; below?: Datum }, put: Put) =>
    [
      ...(d.from === undefined ? [] : [`from ${put(d.from)}`]),
      ...(d.above === undefined ? [] : [`above ${put(d.above)}`]),
      ...(d.to === undefined
        ? []
        : [`${d.from === undefined && d.above === undefined ? 'up ' : ''}to ${put(d.to)}`]),
      ...(d.below === undefined ? [] : [`below ${put(d.below)}`]),
    ].join(' '),
  'usual.range-or-none': (d: { range: Sentence }, put: Put) => `${put(d.range)}, or none`,
};
