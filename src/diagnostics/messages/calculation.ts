import type { Text } from '../../words/sentence.ts';
import { ENGLISH } from '../../words/words.ts';
import type { Wording } from '../wording.ts';
import { quoteList } from '../words.ts';

export const calculationMessages = {
  'unknown-calculation': (d: {
    name: string;
    nearest: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `there is no calculation '${d.name}'`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : `there are: ${d.known.join(', ')}`,
  }),
  'unknown-given': (d: {
    name: string;
    calculation: string;
    nearest: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `${d.calculation} has no given '${d.name}'`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : `its givens are: ${d.known.join(', ')}`,
  }),
  'missing-given': (d: { name: string; meaning: Text; step: Text }): Wording => ({
    message: `'${d.name}' (${ENGLISH.word(d.meaning)}) is missing: it is needed for ${ENGLISH.word(d.step)}`,
    hint: `add '${d.name}:' under 'given:'`,
  }),
  'both-alternatives': (d: { names: readonly string[] }): Wording => ({
    message: `${quoteList(d.names, 'and')} are alternatives, and more than one is written`,
    hint: 'keep one of them',
  }),
  'no-alternative': (d: { names: readonly string[] }): Wording => ({
    message: `one of ${quoteList(d.names)} is needed, and none is written`,
    hint: `add one of them under 'given:'`,
  }),
  'unused-given': (d: { name: string }): Wording => ({
    message: `'${d.name}' is written and not used: no formula or check of the chosen options needs it`,
    hint: 'leave it out, or choose the option that uses it',
  }),
  'outside-permitted': (d: { name: string; text: string; permitted: Text }): Wording => ({
    message: `'${d.name}' is ${d.text}, which is outside what is permitted: ${ENGLISH.word(d.permitted)}`,
    hint: `write a value ${ENGLISH.word(d.permitted)}`,
  }),
  'not-whole': (d: { name: string; text: string }): Wording => ({
    message: `'${d.name}' is a count, and '${d.text}' is not a whole number`,
    hint: 'write a whole number without a unit',
  }),
  'unknown-option': (d: {
    name: string;
    text: string;
    nearest: string | undefined;
    options: readonly string[];
  }): Wording => ({
    message: `'${d.text}' is not an option of '${d.name}'`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : `the options are: ${d.options.join(', ')}`,
  }),
  'wrong-shape': (d: { name: string; expected: string }): Wording => ({
    message: `'${d.name}' must be ${d.expected}`,
  }),
  'too-few-items': (d: { name: string; least: number; found: number }): Wording => ({
    message: `'${d.name}' has ${d.found} ${d.found === 1 ? 'item' : 'items'}, and at least ${d.least} are needed`,
  }),
  'one-row': (d: { name: string; found: number }): Wording => ({
    message: `'${d.name}' takes one row, and ${d.found} are written`,
    hint: 'keep one of them',
  }),
  'rows-alongside': (d: { name: string; found: number; alongside: string; expected: number }): Wording => ({
    message: `'${d.name}' has ${d.found} rows, and '${d.alongside}' has ${d.expected}`,
    hint: `write one row of '${d.name}' for each row of '${d.alongside}', in the same order, or one row for all`,
  }),
  'missing-column': (d: { name: string; column: string; meaning: string }): Wording => ({
    message: `a row of '${d.name}' has no '${d.column}' (${d.meaning})`,
    hint: `add '${d.column}:' to it`,
  }),
  'unknown-column': (d: {
    name: string;
    column: string;
    nearest: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `'${d.column}' is not a column of '${d.name}'`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : `its columns are: ${d.known.join(', ')}`,
  }),
  'range-order': (d: { low: string; high: string }): Wording => ({
    message: `the range ${d.low} to ${d.high} runs backwards`,
    hint: `write [${d.high}, ${d.low}]`,
  }),
  'outside-range': (d: { name: string; text: string; low: string; high: string }): Wording => ({
    message: `'${d.name}' is ${d.text}, which is outside its own range ${d.low} to ${d.high}`,
    hint: 'the value must be within the range',
  }),
  'range-not-for-this': (d: { name: string }): Wording => ({
    message: `'${d.name}' is not a single quantity and cannot have a range`,
    hint: "leave 'range' and 'plus_minus' out",
  }),
  'outside-validity': (d: { text: Text; basis: Text }): Wording => ({
    message: `outside the validity of the method: ${ENGLISH.word(d.text)} (${ENGLISH.word(d.basis)})`,
    hint: 'correct the values, or choose a method that is valid for them',
  }),
  'unfit-value': (d: { text: Text; hint: Text | undefined }): Wording => ({
    message: ENGLISH.word(d.text),
    ...(d.hint === undefined ? {} : { hint: ENGLISH.word(d.hint) }),
  }),
  'not-in-table': (d: { key: string; step: Text }): Wording => ({
    message: `there is no value for '${d.key}' in the table for ${ENGLISH.word(d.step)}`,
    hint: 'write a value that is in the table',
  }),
  'no-solution': (d: StepWithoutNumber): Wording => ({
    message: `no solution was found for ${nameItem(d)}${fromValues(d)}`,
    hint: 'check the values it is computed from',
  }),
  'step-beyond-numbers': (d: StepWithoutNumber): Wording => ({
    message: `${nameItem(d)} is beyond the numbers that can be computed with${fromValues(d)}`,
    hint: 'check the values it is computed from for a digit, an exponent or a prefix too many',
  }),
  'duplicate-name': (d: { name: string }): Wording => ({
    message: `'${d.name}' is used for two things`,
    hint: 'give one of them another name',
  }),
  'result-dimension': (d: { formula: string; actual: string; expected: string; unit: string }): Wording => ({
    message: `'${d.formula}' gives ${d.actual}, and its unit '${d.unit}' is that of ${d.expected}`,
    hint: 'correct the formula or the unit',
  }),
  'unknown-accepted-caution': (d: { caution: string; nearest: string | undefined }): Wording => ({
    message: `no caution '${d.caution}' was given by this block`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : 'leave the acceptance out',
  }),
};

interface StepWithoutNumber {
  readonly step: Text;
  /** Of a list, from 1. */
  readonly item: number | undefined;
  /** What it was to be computed from: 'rail_lead = 1 m, currents = 5 kA'. */
  readonly values: Text;
}

function nameItem({ step, item }: StepWithoutNumber): string {
  const said = ENGLISH.word(step);
  return item === undefined ? said : `item ${item} of ${said}`;
}

function fromValues({ values }: StepWithoutNumber): string {
  const said = ENGLISH.word(values);
  return said === '' ? '' : ` (from ${said})`;
}
