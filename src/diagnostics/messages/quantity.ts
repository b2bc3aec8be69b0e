import type { Wording } from '../wording.ts';

type Aspect = 'measure' | 'between';

/** What is done to two values whose quotient has no dimension. */
const RATIO = 'set in a ratio';

const CONVERSION_HINTS: Readonly<Record<Aspect, string>> = {
  measure:
    'sqrt(2) * X is the peak of a sinusoidal X, X / sqrt(2) its r.m.s. value; the formula must contain that factor, as sqrt(2)',
  between:
    'X / sqrt(3) is the voltage to earth or neutral of a symmetrical system with X between phases; the formula must contain that factor, as sqrt(3)',
};

export const quantityMessages = {
  'not-a-quantity': (d: { text: string; example: string }): Wording => ({
    message: `'${d.text}' is not a quantity`,
    hint: `write a number and a unit, for example ${d.example}`,
  }),
  'decimal-comma': (d: { text: string; instead: string }): Wording => ({
    message: `'${d.text}' has a decimal comma`,
    hint: `write a decimal point: ${d.instead}`,
  }),
  'digit-grouping': (d: { text: string; instead: string }): Wording => ({
    message: `'${d.text}' groups its digits`,
    hint: `write the number without separators: ${d.instead}`,
  }),
  'ambiguous-comma': (d: { text: string; decimal: string; whole: string }): Wording => ({
    message: `the comma in '${d.text}' can be a decimal sign or can group digits`,
    hint: `write ${d.decimal} if it is a decimal sign, or ${d.whole} if it groups digits`,
  }),
  'ambiguous-list-comma': (d: { text: string; one: readonly string[]; apart: string }): Wording => ({
    message: `the comma in '${d.text}' can be within one number or between several`,
    hint:
      d.one.length === 0
        ? `write a blank behind each comma: ${d.apart}`
        : `write ${d.one.join(' or ')} for one number, or a blank behind each comma for several: ${d.apart}`,
  }),
  'several-numbers': (d: { text: string }): Wording => ({
    message: `'${d.text}' holds more than one number`,
    hint: 'write one number, with a decimal point where it needs one, and its unit',
  }),
  'fraction-in-quantity': (d: { text: string }): Wording => ({
    message: `'${d.text}' is written with a fraction`,
    hint: 'write a decimal number, for example 1.5 m',
  }),
  'power-of-ten': (d: { text: string }): Wording => ({
    message: `the power of ten in '${d.text}' is not read`,
    hint: 'write it with e, for example 2.5e3 m for two thousand five hundred metres',
  }),
  'tolerance-in-quantity': (d: { text: string; value: string; margin: string }): Wording => ({
    message: `'${d.text}' is a value with a margin, and one value is needed here`,
    hint: `write { value: ${d.value}, plus_minus: ${d.margin} }`,
  }),
  'range-in-quantity': (d: { text: string; low: string; high: string }): Wording => ({
    message: `'${d.text}' seems to be a range, and one value is needed here`,
    hint: `write the value and its range: { value: ..., range: [${d.low}, ${d.high}] }`,
  }),
  'number-out-of-range': (d: { text: string }): Wording => ({
    message: `'${d.text}' is beyond the numbers that can be computed with`,
    hint: 'look for a digit or an exponent too many, or for a sign of the exponent',
  }),
  'missing-unit': (d: { text: string; example: string }): Wording => ({
    message: `'${d.text}' has no unit`,
    hint: `write the unit, for example ${d.example}`,
  }),
  'unknown-unit': (d: { unit: string; nearest?: string | undefined }): Wording => ({
    message: `'${d.unit}' is not a known unit`,
    hint: d.nearest
      ? `did you mean '${d.nearest}'?`
      : 'units are written as in kV, uH/m, kA/us, ohm m, mm^2, MJ/ohm, 1/km^2/year',
  }),
  'ambiguous-unit': (d: { unit: string }): Wording => ({
    message: `'${d.unit}' can be read in two ways: a product follows a division`,
    hint: 'put the denominator in parentheses, for example J/(kg K)',
  }),
  'malformed-unit': (d: { unit: string }): Wording => ({
    message: `'${d.unit}' is not written as a unit`,
    hint: 'units are written as in kV, uH/m, kA/us, ohm m, mm^2, J/(kg K)',
  }),
  'offset-unit-in-product': (d: { unit: string }): Wording => ({
    message: `'${d.unit}' is a scale with an offset and cannot be part of a product of units`,
    hint: 'use K for differences of temperature',
  }),
  'pair-where-single': (d: { text: string; first: string; second: string }): Wording => ({
    message: `'${d.text}' is a pair of values, and one value is needed here`,
    hint: `write one of the two, ${d.first} or ${d.second}; a fraction is written as a decimal number`,
  }),
  'wrong-dimension': (d: {
    name: string;
    expected: string;
    text: string;
    actual: string;
    example: string;
  }): Wording => ({
    message: `'${d.name}' is ${d.expected}; '${d.text}' is ${d.actual}`,
    hint: `write ${d.expected}, for example ${d.example}`,
  }),
  'wrong-voltage-kind': (d: {
    name: string;
    expected: string;
    text: string;
    actual: string;
    conversion?: string | undefined;
  }): Wording => ({
    message: `'${d.name}' is ${d.expected}; '${d.text}' is ${d.actual}`,
    hint: d.conversion
      ? `write ${d.expected}; a sinusoidal value is converted with !formula "${d.conversion}"`
      : `write ${d.expected}`,
  }),
  'contradicting-kinds': (d: {
    left: string;
    leftKind: string;
    right: string;
    rightKind: string;
    doing: string;
    aspect: Aspect;
  }): Wording => ({
    message: `'${d.left}' is ${d.leftKind} and '${d.right}' is ${d.rightKind}: they cannot be ${d.doing}`,
    hint:
      d.doing === RATIO
        ? `${CONVERSION_HINTS[d.aspect]}; for a factor that is defined across the two, a step of your own counts both under 'numeric'`
        : CONVERSION_HINTS[d.aspect],
  }),
  'result-kind': (d: {
    formula: string;
    actual: string;
    expected: string;
    conversion?: string | undefined;
  }): Wording => ({
    message: `'${d.formula}' is ${d.actual}, and ${d.expected} is declared`,
    hint: d.conversion
      ? `a sinusoidal value is converted by its factor: ${d.conversion}`
      : 'declare what the formula gives',
  }),
  'kind-serves-as-both': (d: { name: string; expected: string; text: string; actual: string }): Wording => ({
    message: `'${d.text}' does not say of which kind it is: '${d.name}' takes it as ${d.expected}, and elsewhere it is taken as ${d.actual}`,
    hint: 'write the kind where the value is written, as in 36 kV rms phase-phase, and convert it with a formula where another is needed',
  }),
  'contradicting-qualifiers': (d: { text: string; first: string; second: string }): Wording => ({
    message: `'${d.text}' says both '${d.first}' and '${d.second}'`,
    hint: 'write one of the two',
  }),
  'qualifier-on-non-voltage': (d: { text: string; qualifier: string }): Wording => ({
    message: `'${d.qualifier}' says how a voltage or current is measured; '${d.text}' is neither`,
    hint: 'leave it out',
  }),
};
