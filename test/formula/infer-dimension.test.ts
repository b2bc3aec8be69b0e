import { describe, expect, test } from 'vitest';
import { wordMessage } from '../../src/diagnostics/messages.ts';
import { checkCondition, inferDimension } from '../../src/formula/infer-dimension.ts';
import { parseCondition, parseFormula } from '../../src/formula/parse-formula.ts';
import { sameDimension } from '../../src/quantity/dimension.ts';
import { unit } from '../../src/quantity/unit.ts';
import { SYMBOLS } from './symbols-for-tests.ts';

function infer(text: string, numeric?: Readonly<Record<string, string>>) {
  const formula = parseFormula(text);
  if (!formula.ok) throw new Error(wordMessage(formula.problem.code, formula.problem.data as never).message);
  const units = numeric && new Map(Object.entries(numeric).map(([name, u]) => [name, unit(u)]));
  return inferDimension(formula.value, SYMBOLS, units ? { numeric: units } : {});
}

describe('the dimension of a value', () => {
  test.each([
    ['line_lead + 0.3 m', 'm'],
    ['inductance * (line_lead + earth_lead) * steepness', 'V'],
    ['resistivity / (2 * pi * line_lead)', 'ohm'],
    ['resistivity / (2 * pi * line_lead) * (ln(8 * line_lead / (0.02 m)) - 1)', 'ohm'],
    ['sqrt(line_lead ^ 2 + earth_lead²)', 'm'],
    ['(line_lead * earth_lead) ^ (1/2)', 'm'],
    ['(line_lead ^ 3) ^ (2/3)', 'm^2'],
    ['line_lead ^ -2', '1/m^2'],
    ['x ^ y', '1'],
    ['2 ^ (line_lead / earth_lead)', '1'],
    ['exp(-time / (50 us))', '1'],
    ['20 % * residual_voltage', 'V'],
    ['abs(-residual_voltage)', 'V'],
    ['min(line_lead, earth_lead, 3 m)', 'm'],
    ['sum(sections.length * sections.inductance)', 'H'],
    ['max(sections.length)', 'm'],
    ['count(sections.length) * line_lead', 'm'],
    ['sum(numbers) / count(numbers)', '1'],
    ['sum(sections.length / sum(sections.length))', '1'],
    ['line_lead when arrangement is 3-wire; 3 m when given steepness; 10 ft otherwise', 'm'],
    ['{tx1-as-found.line_lead} - 0.3 m', 'm'],
    ['current² * time', 'A^2 s'],
    ['sin(30 °) + floor(x)', '1'],
  ])('%s is counted in %s', (text, expected) => {
    const reading = infer(text);
    expect(reading.ok && sameDimension(reading.value, unit(expected).dimension)).toBe(true);
  });
});

/** Faults with the code, the marked text and a part of the message. */
const FAULTS: readonly (readonly [text: string, code: string, marked: string, message: RegExp])[] = [
  [
    'line_lead + x',
    'unequal-dimensions',
    'line_lead + x',
    /'line_lead' is a length and 'x' is a pure number/,
  ],
  [
    'line_lead - residual_voltage',
    'unequal-dimensions',
    'line_lead - residual_voltage',
    /a voltage: .*subtracted/,
  ],
  [
    'max(0, line_lead)',
    'unequal-dimensions',
    '0, line_lead',
    /'0' is a pure number and 'line_lead' is a length/,
  ],
  [
    'line_lead when x < 2; 3 otherwise',
    'unequal-dimensions',
    'line_lead when x < 2; 3',
    /'3' is a pure number/,
  ],
  ['1 m when line_lead < 3; 2 m otherwise', 'unequal-dimensions', 'line_lead < 3', /they cannot be compared/],
  ['ln(line_lead)', 'argument-not-pure', 'line_lead', /'ln' takes a pure number; 'line_lead' is a length/],
  ['exp(2 * time)', 'argument-not-pure', '2 * time', /a time/],
  ['sin(line_lead)', 'argument-not-pure', 'line_lead', /sin/],
  ['ceil(line_lead)', 'argument-not-pure', 'line_lead', /ceil/],
  ['x ^ line_lead', 'exponent-not-pure', 'line_lead', /an exponent is a pure number/],
  ['line_lead ^ x', 'exponent-not-constant', 'x', /'line_lead' is a length, and its exponent 'x'/],
  ['line_led', 'unknown-symbol', 'line_led', /'line_led' is not declared/],
  ['sum(line_lead)', 'number-as-list', 'line_lead', /there is none in 'line_lead'/],
  ['min(x)', 'number-as-list', 'x', /'min' runs over a list/],
  ['count(x)', 'number-as-list', 'x', /'count' runs over a list/],
  ['sections.length + 1 m', 'list-as-number', 'sections.length', /is a list/],
  ['min(sections.length, 1 m)', 'list-as-number', 'sections.length', /is a list/],
  ['sum(numbers) * numbers', 'list-as-number', 'numbers', /is a list/],
  ['arrangement * 2', 'choice-as-number', 'arrangement', /'arrangement' is a choice/],
  ['x when x is common-earth', 'number-as-choice', 'x is common-earth', /'x' is a number/],
  ['x when arrangement is common-eart', 'no-such-option', 'common-eart', /not an option of 'arrangement'/],
  ['x when given stepness', 'unknown-symbol', 'given stepness', /'stepness' is not declared/],
];

describe('a fault of dimension names both sides and is marked', () => {
  test.each(FAULTS)('%s', (text, code, marked, message) => {
    const reading = infer(text);
    if (reading.ok) throw new Error('nothing found');
    const { span } = reading.problem;
    expect(reading.problem.code).toBe(code);
    expect(span && text.slice(span.start, span.end)).toBe(marked);
    expect(wordMessage(reading.problem.code, reading.problem.data as never).message).toMatch(message);
  });
});

describe('an undeclared name is never a unit', () => {
  // Names that a library of units would take for litre, newton, hour, day, minute, metre, tesla, henry.
  test.each(['L', 'N', 'h', 'd', 'min', 'm', 'T', 'H', 'kV', 'e', 'i', 'Infinity'])('%s', (name) => {
    for (const text of [name, `2 * ${name}`, `line_lead / ${name}`]) {
      const reading = infer(text);
      expect(!reading.ok && reading.problem.code).toBe('unknown-symbol');
    }
  });
});

test('the nearest name and the place of a unit are suggested', () => {
  const hintOf = (text: string) => {
    const reading = infer(text);
    return reading.ok ? '' : wordMessage(reading.problem.code, reading.problem.data as never).hint;
  };
  expect(hintOf('earth_led')).toBe("did you mean 'earth_lead'?");
  expect(hintOf('tx1_as_found.line_lead')).toBe("did you mean 'tx1-as-found.line_lead'?");
  expect(hintOf('x when arrangement is separate_earths')).toBe("did you mean 'separate-earths'?");
  expect(hintOf('x when arrangement is star')).toBe(
    "the options are 'common-earth', 'separate-earths' and '3-wire'",
  );
  expect(hintOf('2 * kV')).toBe('a unit is written directly after its number, as in 2 kV');
});

describe('a formula of pure numbers', () => {
  test('takes every name as a number', () => {
    const reading = infer('10 * current ^ 0.65 + line_lead', { current: 'kA', line_lead: 'm' });
    expect(reading.ok && reading.value).toEqual([0, 0, 0, 0, 0]);
  });
  test.each([
    ['10 * current ^ 0.65 + line_lead', { current: 'kA' }, 'numeric-unit-missing'],
    ['10 * current ^ 0.65', { current: 'kV' }, 'numeric-unit-dimension'],
    ['10 * current ^ 0.65 + 2 m', { current: 'kA' }, 'quantity-in-numeric-formula'],
    ['current when current < 3 kA; 3 otherwise', { current: 'kA' }, 'quantity-in-numeric-formula'],
  ])('%s with %o', (text, numeric, code) => {
    const reading = infer(text, numeric as Record<string, string>);
    expect(!reading.ok && reading.problem.code).toBe(code);
  });
  test('asks for no unit of a choice, nor of a name asked for with given', () => {
    const reading = infer('current when arrangement is 3-wire and given tail; 3 otherwise', {
      current: 'kA',
    });
    expect(reading.ok).toBe(true);
  });
});

describe('conditions', () => {
  test.each([
    ['line_lead <= 10 ft and given tail', undefined],
    ['not (arrangement is 3-wire or x > 3)', undefined],
    ['line_lead <= 3', 'unequal-dimensions'],
    ['arrangement is delta', 'no-such-option'],
    ['x > 2 or given nothing_of_that_name', 'unknown-symbol'],
  ])('%s', (text, code) => {
    const formula = parseCondition(text);
    expect(formula.ok && checkCondition(formula.value, SYMBOLS)?.code).toBe(code);
  });
  test('a condition has no dimension, and a value is no condition', () => {
    const condition = parseCondition('x < 2');
    const value = parseFormula('x + 2');
    if (!condition.ok || !value.ok) throw new Error('not parsed');
    const inferred = inferDimension(condition.value, SYMBOLS);
    expect(!inferred.ok && inferred.problem.code).toBe('condition-where-value');
    expect(checkCondition(value.value, SYMBOLS)?.code).toBe('value-where-condition');
  });
});
