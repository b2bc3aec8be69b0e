import type { Text } from '../../words/sentence.ts';
import { ENGLISH } from '../../words/words.ts';
import type { Wording } from '../wording.ts';

/** Faults of a definition itself: of a calculation of the catalogue, or of the engineer's own. */
export const definitionMessages = {
  'unknown-part': (d: {
    name: string;
    /** 'a given', 'a check'. */
    what: string;
    nearest: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `'${d.name}' is not ${d.what}`,
    hint: d.nearest
      ? `did you mean '${d.nearest}'?`
      : d.known.length > 0
        ? `there are: ${d.known.join(', ')}`
        : 'there is none',
  }),
  'unknown-placeholder': (d: { text: string; nearest: string | undefined }): Wording => ({
    message: `${d.text} is written in a sentence, and there is no value of that name to insert`,
    hint: d.nearest ? `did you mean {${d.nearest}}?` : 'write the name of a given or a step in braces',
  }),
  'empty-range': (d: { range: Text }): Wording => ({
    message: `there is no value in the range ${ENGLISH.word(d.range)}`,
    hint: 'write the lower end first',
  }),
  'usual-beyond-permitted': (d: { usual: Text; permitted: Text }): Wording => ({
    message: `the usual range, ${ENGLISH.word(d.usual)}, reaches beyond what is permitted: ${ENGLISH.word(d.permitted)}`,
    hint: 'what is usual is permitted: correct one of the two',
  }),
  'table-gap': (d: { key: string }): Wording => ({
    message: `the table has no value for '${d.key}', which can occur`,
    hint: 'add it, or a condition under which the table is not used',
  }),
  'never-holds': (d: { condition: string }): Wording => ({
    message: `'${d.condition}' can never be true`,
    hint: 'correct the condition, or leave out what depends on it',
  }),
  'always-holds': (d: { condition: string }): Wording => ({
    message: `'${d.condition}' is always true, and so limits nothing`,
    hint: 'correct the condition, or leave the limit out',
  }),
  'never-reached': (d: { formula: string }): Wording => ({
    message: `the formula '${d.formula}' is never reached: one before it applies wherever it would`,
    hint: 'correct its condition or those before it',
  }),
  'names-nothing': (d: { condition: string }): Wording => ({
    message: `'${d.condition}' names no given and no step`,
    hint: 'a condition must depend on a value',
  }),
  'same-limiting': (d: { given: string; seek: string }): Wording => ({
    message: `two limiting values ask for the ${d.seek} '${d.given}' of the same checks`,
    hint: 'name in checks what each of them is for',
  }),
  'given-without-use': (d: { name: string }): Wording => ({
    message: `nothing uses the given '${d.name}'`,
    hint: 'leave it out, or use it',
  }),
  'broken-tex': (d: { symbol: string; because: string }): Wording => ({
    message: `the symbol '${d.symbol}' cannot be typeset: ${d.because}`,
    hint: 'a symbol is LaTeX, for example U_\\mathrm{res}',
  }),
  'same-calculation': (d: { name: string }): Wording => ({
    message: `two calculations have the name '${d.name}'`,
    hint: 'give one of them another name',
  }),
  'edition-without-part': (d: { option: string; by: string }): Wording => ({
    message: `nothing is said of the edition '${d.option}', an option of '${d.by}'`,
    hint: 'add its part to the editions',
  }),
  'step-of-no-edition': (d: { name: string }): Wording => ({
    message: `'${d.name}' goes by edition, and no edition has a formula for it`,
    hint: 'add its formulas to the editions, or give the step its own',
  }),
  'one-alternative': (d: { names: readonly string[] }): Wording => ({
    message: `alternatives need at least two different givens, and there is ${d.names.join(', ') || 'none'}`,
    hint: 'add the other one, or leave the alternatives out',
  }),
};
