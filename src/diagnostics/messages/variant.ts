import type { Wording } from '../wording.ts';
import { quoteList } from '../words.ts';

type Nothing = Record<string, never>;

export const variantMessages = {
  'named-twice': (d: { name: string; key: string }): Wording => ({
    message: `'${d.name}' appears twice in '${d.key}'`,
    hint: 'leave one of the two out',
  }),
  'without-base': (_: Nothing): Wording => ({
    message: "'without' leaves out givens of a base or of the register, and this block takes none from there",
    hint: "write based_on: or givens_from:, or leave 'without' out",
  }),
  'formula-on-base': (_: Nothing): Wording => ({
    message: "a formula block states its own formulas and has no 'based_on'",
    hint: "mark the block 'yaml calc': it takes the formulas from the base, and 'given' holds the values that differ",
  }),
  'unknown-base': (d: { id: string; nearest: string | undefined; known: readonly string[] }): Wording => ({
    message: `there is no block '${d.id}' in this note to be based on`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : listKnown(d.known),
  }),
  'base-cycle': (d: { chain: readonly string[] }): Wording => ({
    message:
      d.chain.length === 2
        ? `'${d.chain[0]}' is based on itself`
        : `these blocks are based on one another in a circle: ${d.chain.join(' -> ')}`,
    hint: "one of them must be complete in itself: write its 'calculation' and all its givens",
  }),
  'base-of-another-calculation': (d: {
    base: string;
    calculation: string;
    /** Undefined for the author's own formulas. */
    ofBase: string | undefined;
  }): Wording => ({
    message: `'${d.base}' is ${d.ofBase === undefined ? 'a formula block' : `a calculation '${d.ofBase}'`}, and '${d.calculation}' is written here`,
    hint: "leave 'calculation' out to take that of the base, or base the block on one of the same calculation",
  }),
  'without-unknown': (d: {
    name: string;
    base: string;
    nearest: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `'${d.base}' gives no '${d.name}' that could be left out`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : `it gives ${quoteList(d.known, 'and')}`,
  }),
  'without-and-given': (d: { name: string }): Wording => ({
    message: `'${d.name}' is left out by 'without' and written under 'given'`,
    hint: "leave it out of 'without': what is written replaces what the base gives",
  }),
  'too-few-compared': (d: { count: number }): Wording => ({
    message: `a comparison sets blocks side by side, and 'of' names ${d.count === 0 ? 'none' : 'one'}`,
    hint: 'name at least two: of: [as-found, proposed]',
  }),
  'unknown-compared': (d: {
    id: string;
    nearest: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `there is no block '${d.id}' in this note to be compared`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : listKnown(d.known),
  }),
  'compared-schedule': (d: { id: string }): Wording => ({
    message: `'${d.id}' is a schedule: a comparison sets calculation blocks side by side, and neither a schedule nor one of its rows`,
    hint: `rows are side by side in the table of the schedule; a block has values of one with !ref ${d.id}.ROW.NAME`,
  }),
  'base-is-schedule': (d: { id: string }): Wording => ({
    message: `'${d.id}' is a schedule, and nothing can be based on one`,
    hint: 'base it on the block on which the schedule is based, or write the calculation and what is given',
  }),
  'base-is-value': (d: { text: string }): Wording => ({
    message: `'${d.text}' names a row or a value, and a block is based on a block`,
    hint: 'write the id of a block alone; single values are taken over with !ref',
  }),
  'base-in-other-note': (d: { text: string }): Wording => ({
    message: `'${d.text}' is in another note, and a block is based on one of its own note`,
    hint: `take over single values: !ref ${d.text}.NAME`,
  }),
  'compared-of-another-calculation': (d: {
    id: string;
    calculation: string;
    first: string;
    ofFirst: string;
  }): Wording => ({
    message: `'${d.id}' is ${d.calculation}, and '${d.first}' is ${d.ofFirst}: only blocks of one calculation are compared`,
    hint: 'make a comparison for each calculation',
  }),
  'unused-inherited': (d: { name: string; base: string }): Wording => ({
    message: `'${d.name}' is taken over from '${d.base}' and not used here: no formula or check of the chosen options needs it`,
    hint: `leave it out: without: [${d.name}]`,
  }),
  'without-own-given': (d: { name: string; base: string }): Wording => ({
    message: `'${d.name}' cannot be left out: '${d.base}' is a formula block, and its formulas state all their givens`,
    hint: "write another value under 'given', or a formula block of its own",
  }),
  'formulas-filled': (d: { base: string }): Wording => ({
    message: `'${d.base}' is a formula block: its givens have names of their own, and the register fills none of them`,
    hint: "leave 'givens_from' out, and write what differs under 'given': a value may be an entry, !ref equipment.SPD1.height",
  }),
  'unknown-own-given': (d: {
    name: string;
    base: string;
    nearest: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `the formulas of '${d.base}' have no given '${d.name}'`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : `their givens are: ${d.known.join(', ')}`,
  }),
};

function listKnown(known: readonly string[]): string {
  return known.length > 0 ? `the blocks are ${quoteList(known, 'and')}` : 'write that block first';
}
