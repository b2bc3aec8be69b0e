import type { Text } from '../../words/sentence.ts';
import { ENGLISH } from '../../words/words.ts';
import type { Wording } from '../wording.ts';
import { quoteList } from '../words.ts';

const LOOK_AT_VALUES =
  'change a value it is computed from; a formula of your own can have a case for it: VALUE when CONDITION; VALUE otherwise';

/** Faults of writing: found while a formula's text is parsed. */
const writingMessages = {
  'formula-empty': (d: { example: string }): Wording => ({
    message: 'the formula is empty',
    hint: `write an expression, for example ${d.example}`,
  }),
  'formula-too-long': (d: { length: number; limit: number }): Wording => ({
    message: `the formula has ${d.length} characters; at most ${d.limit} are read`,
    hint: 'divide it into several steps',
  }),
  'formula-too-deep': (d: { limit: number }): Wording => ({
    message: `the formula is nested more than ${d.limit} levels deep`,
    hint: 'divide it into several steps',
  }),
  'formula-too-large': (d: { limit: number }): Wording => ({
    message: `the formula has more than ${d.limit} parts`,
    hint: 'divide it into several steps',
  }),
  'formula-character': (d: { character: string; instead?: string | undefined }): Wording => ({
    message: `'${d.character}' does not belong to the language of formulas`,
    ...(d.instead ? { hint: `write ${d.instead}` } : {}),
  }),
  'formula-unexpected': (d: { found: string; expected: string }): Wording => ({
    message: `${d.found} is written where ${d.expected} is expected`,
  }),
  'formula-unclosed': (d: { opening: string; closing: string }): Wording => ({
    message: `'${d.opening}' is not closed`,
    hint: `close it with '${d.closing}'`,
  }),
  'missing-operator': (d: { left: string; right: string }): Wording => ({
    message: `there is no operator between '${d.left}' and '${d.right}'`,
    hint: `a product is written with its sign: ${d.left} * ${d.right}`,
  }),
  'not-a-unit-after-number': (d: {
    number: string;
    word: string;
    nearest?: string | undefined;
  }): Wording => ({
    message: `'${d.word}' is written as the unit of '${d.number}', and there is no such unit`,
    hint: d.nearest
      ? `did you mean '${d.nearest}'? A product needs '*', and a quotient of names blanks around '/'`
      : `a product needs '*', and a quotient of names blanks around '/'`,
  }),
  'power-of-quantity': (d: { text: string }): Wording => ({
    message: `it is not clear whether the power belongs to '${d.text}' or to its unit alone`,
    hint: `put the quantity in parentheses: (${d.text})^...`,
  }),
  'unknown-function': (d: { name: string; meant: readonly string[] }): Wording => ({
    message: `'${d.name}' is not a function`,
    hint:
      d.meant.length > 0
        ? `did you mean ${quoteList(d.meant)}?`
        : `a product is written with its sign: ${d.name} * (...)`,
  }),
  'argument-count': (d: { function: string; expected: string; actual: number }): Wording => ({
    message: `'${d.function}' takes ${d.expected}, and ${d.actual} are written`,
  }),
  'over-without-run': (d: { function: string }): Wording => ({
    message: `'${d.function}' does not run over the rows of a table`,
    hint: "'over' follows the one argument of sum, product, min or max, as in sum(x over rows)",
  }),
  'count-of-expression': (d: { text: string }): Wording => ({
    message: `'count' takes the name of a list, and '${d.text}' is an expression`,
    hint: 'write the name of the list alone, as in count(lengths)',
  }),
  'chained-comparison': (d: { text: string }): Wording => ({
    message: `a second comparison follows '${d.text}'`,
    hint: "compare twice and join with 'and', as in a < b and b < c",
  }),
  'condition-where-value': (d: { text: string }): Wording => ({
    message: `'${d.text}' is a condition, and a value is needed here`,
    hint: "a value that depends on a condition is written 'a when x < y; b otherwise'",
  }),
  'value-where-condition': (d: { text: string }): Wording => ({
    message: `'${d.text}' is a value, and a condition is needed here`,
    hint: "write a condition, as in x <= 2 m, 'name is option' or 'given name'",
  }),
  'case-without-condition': (d: { text: string }): Wording => ({
    message: `the case '${d.text}' has no condition`,
    hint: "write 'VALUE when CONDITION', and the last case 'VALUE otherwise'",
  }),
  'case-after-otherwise': (d: { text: string }): Wording => ({
    message: `the case '${d.text}' follows 'otherwise' and could never apply`,
    hint: "put the case with 'otherwise' last",
  }),
};

/** Faults of meaning: found when names and dimensions are checked. */
const meaningMessages = {
  'unknown-symbol': (d: { name: string; nearest?: string | undefined; isUnit?: boolean }): Wording => ({
    message: `'${d.name}' is not declared`,
    ...(d.nearest
      ? { hint: `did you mean '${d.nearest}'?` }
      : d.isUnit
        ? { hint: `a unit is written directly after its number, as in 2 ${d.name}` }
        : { hint: "declare it under 'given', or as a step before this one" }),
  }),
  'reserved-name': (d: { name: string; as: string; instead: string }): Wording => ({
    message: `'${d.name}' is ${d.as} of the language of formulas and cannot name a value`,
    hint: `write another name, for example ${d.instead}`,
  }),
  'unit-or-name': (d: { text: string; name: string }): Wording => ({
    message: `'${d.text}' is read with '${d.name}' as its unit, and a value is named '${d.name}' as well`,
    hint: `give the value a longer name; a product with it is written with its sign: ${d.text.replace(/\s*[A-Za-z].*$/, '')} * NAME`,
  }),
  'no-such-option': (d: {
    name: string;
    option: string;
    options: readonly string[];
    nearest?: string | undefined;
  }): Wording => ({
    message: `'${d.option}' is not an option of '${d.name}'`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : `the options are ${quoteList(d.options, 'and')}`,
  }),
  'choice-as-number': (d: { name: string }): Wording => ({
    message: `'${d.name}' is a choice and has no number`,
    hint: `ask for its option: ${d.name} is OPTION`,
  }),
  'number-as-choice': (d: { name: string; option: string }): Wording => ({
    message: `'${d.name}' is a number, and '${d.option}' is asked of it as of a choice`,
    hint: `compare it: ${d.name} = ...`,
  }),
  'list-as-number': (d: { name: string }): Wording => ({
    message: `'${d.name}' is a list, and a single value is needed here`,
    hint: `sum, product, min, max and count make one value of a list, as in sum(${d.name})`,
  }),
  'choices-as-choice': (d: { name: string }): Wording => ({
    message: `'${d.name}' is an option for each row of its table, and a single one is asked for`,
    hint: 'ask within a function that runs over the rows, or of a step that has a value for each row',
  }),
  'run-over-several': (d: { function: string; text: string; tables: readonly string[] }): Wording => ({
    message: `'${d.text}' has lists of several tables: ${quoteList(d.tables, 'and')}`,
    hint: `say over which rows it runs, as in ${d.function}(... over ${d.tables[0]})`,
  }),
  'unknown-table': (d: {
    name: string;
    nearest?: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `there is no table '${d.name}' whose rows could be run over`,
    ...(d.nearest
      ? { hint: `did you mean '${d.nearest}'?` }
      : d.known.length > 0
        ? { hint: `the tables are ${quoteList(d.known, 'and')}` }
        : {}),
  }),
  'number-as-list': (d: { function: string; text: string }): Wording => ({
    message: `'${d.function}' runs over a list, and there is none in '${d.text}'`,
    hint: 'write the name of a list, or leave the function out',
  }),
  'unequal-dimensions': (d: {
    doing: string;
    left: string;
    leftDimension: string;
    right: string;
    rightDimension: string;
  }): Wording => ({
    message: `'${d.left}' is ${d.leftDimension} and '${d.right}' is ${d.rightDimension}: they cannot be ${d.doing}`,
    hint: 'look for a factor that is missing, or for a wrong unit',
  }),
  'argument-not-pure': (d: { function: string; text: string; dimension: string }): Wording => ({
    message: `'${d.function}' takes a pure number; '${d.text}' is ${d.dimension}`,
    hint: 'divide by a value of the same kind first',
  }),
  'exponent-not-pure': (d: { text: string; dimension: string }): Wording => ({
    message: `an exponent is a pure number; '${d.text}' is ${d.dimension}`,
    hint: 'divide by a value of the same kind first',
  }),
  'exponent-not-constant': (d: { base: string; dimension: string; exponent: string }): Wording => ({
    message: `'${d.base}' is ${d.dimension}, and its exponent '${d.exponent}' is not a constant`,
    hint: 'only pure numbers can be raised to a power that varies',
  }),
  'numeric-unit-missing': (d: { name: string }): Wording => ({
    message: `the formula works on pure numbers, and no unit is stated in which '${d.name}' counts`,
    hint: `state it under 'numeric'`,
  }),
  'numeric-unit-dimension': (d: {
    name: string;
    dimension: string;
    unit: string;
    unitDimension: string;
  }): Wording => ({
    message: `'${d.name}' is ${d.dimension} and cannot count in ${d.unit}, which is ${d.unitDimension}`,
    hint: `write a unit of ${d.dimension}`,
  }),
  'quantity-in-numeric-formula': (d: { text: string }): Wording => ({
    message: `the formula works on pure numbers, and '${d.text}' carries a unit`,
    hint: 'write the number alone, counted in the unit of the value beside it',
  }),
};

/** Faults of values: found when a formula is evaluated. `values` lists the symbols with their values. */
const valueMessages = {
  'absent-value': (d: { name: string }): Wording => ({
    message: `'${d.name}' is needed and has no value`,
    hint: 'give it a value',
  }),
  'division-by-zero': (d: { expression: string; divisor: string; values: string }): Wording => ({
    message: `division by zero in '${d.expression}': '${d.divisor}' is 0${withValues(d.values)}`,
    hint: LOOK_AT_VALUES,
  }),
  'outside-function-domain': (d: {
    expression: string;
    function: string;
    domain: string;
    argument: string;
    value: string;
    values: string;
  }): Wording => ({
    message: `'${d.expression}' has no value: ${d.function} needs ${d.domain}, and '${d.argument}' is ${d.value}${withValues(d.values)}`,
    hint: LOOK_AT_VALUES,
  }),
  'power-without-value': (d: {
    expression: string;
    base: string;
    exponent: string;
    values: string;
  }): Wording => ({
    message: `'${d.expression}' has no value: ${d.base} cannot be raised to ${d.exponent}${withValues(d.values)}`,
    hint: LOOK_AT_VALUES,
  }),
  'not-finite': (d: { expression: string; values: Text }): Wording => ({
    message: `'${d.expression}' is beyond the numbers that can be computed with${withValues(ENGLISH.word(d.values))}`,
    hint: LOOK_AT_VALUES,
  }),
  'unequal-lists': (d: {
    first: string;
    firstLength: number;
    second: string;
    secondLength: number;
  }): Wording => ({
    message: `'${d.first}' has ${d.firstLength} items and '${d.second}' has ${d.secondLength}; they are taken item by item`,
    hint: 'give the lists the same number of items',
  }),
  'empty-list': (d: { function: string; name: string }): Wording => ({
    message: `'${d.name}' has no items, so it has no ${d.function}`,
    hint: 'write at least one item',
  }),
  'no-case-applies': (d: { values: string }): Wording => ({
    message: `no case of the formula applies${withValues(d.values)}`,
    hint: "add a case, or end with 'VALUE otherwise'",
  }),
};

function withValues(values: string): string {
  return values === '' ? '' : ` (${values}; in SI units where no unit is shown)`;
}

export const formulaMessages = { ...writingMessages, ...meaningMessages, ...valueMessages };
