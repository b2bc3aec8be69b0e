import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { wordMessage } from '../../src/diagnostics/messages.ts';
import { compareValues } from '../../src/formula/compare-values.ts';
import { evaluateCondition, evaluateFormula } from '../../src/formula/evaluate-formula.ts';
import type { Comparison, FormulaValues } from '../../src/formula/formula.ts';
import { parseCondition, parseFormula } from '../../src/formula/parse-formula.ts';
import { unit } from '../../src/quantity/unit.ts';
import { VALUES } from './symbols-for-tests.ts';

function evaluate(text: string, values: FormulaValues = VALUES) {
  const formula = parseFormula(text);
  if (!formula.ok) throw new Error(wordMessage(formula.problem.code, formula.problem.data as never).message);
  return evaluateFormula(formula.value, values);
}

function decide(text: string, values: FormulaValues = VALUES) {
  const formula = parseCondition(text);
  if (!formula.ok) throw new Error(wordMessage(formula.problem.code, formula.problem.data as never).message);
  return evaluateCondition(formula.value, values);
}

describe('the value in SI units', () => {
  test.each([
    ['line_lead + 0.3 m', 2.1],
    // Common practice: 1 uH/m and 10 kA/us make 10 kV per metre of lead, so 5 m add 50 kV.
    ['inductance * 5 m * steepness', 50e3],
    ['1 uH/m * 5 m * 10 kA/us', 50e3],
    ['3.3 uH', 3.3e-6],
    // 0 °C is 273.15 K.
    ['-18 degC', 255.15],
    ['20 degC - -18 degC', 38],
    ['10 ft', 3.048],
    ['20 % * residual_voltage', 6600],
    ['0.1 1/km^2/year * 31536000 s * 1000000 m^2', 0.1],
    ['sum(sections.length)', 6],
    ['sum(sections.length * sections.inductance)', 14e-6],
    ['sum(sections.length * 2)', 12],
    ['sum(numbers / sum(numbers))', 1],
    ['sum(min(numbers, 3))', 3 + 1 + 3 + 2],
    ['max(numbers) - min(numbers)', 6],
    ['max(2 * numbers - y)', 12],
    ['count(numbers)', 4],
    ['min(y, 3, z)', -3],
    ['{tx1-as-found.line_lead} - line_lead', 2.2],
    ['1 when arrangement is separate-earths; 2 when y > 1; 3 otherwise', 2],
    ['1 when arrangement is common-earth; 1 / x otherwise', 1],
    ['tail when given tail; 50 us otherwise', 50e-6],
    ['-y ^ 2', -4],
    ['2 ^ -y', 0.25],
    ['2 ^ 3 ^ 2', 512],
    ['y² + y³', 12],
    ['-x', 0],
    // What binary fractions make of 0.3 / 0.1 and of 0.6 / 0.2 is not allowed to change a count.
    ['floor(0.3 / 0.1)', 3],
    ['ceil(0.28 / 0.14 * 50)', 100],
    ['ceil(3.0001)', 4],
    ['floor(z / 2)', -2],
  ])('%s', (text, expected) => {
    const reading = evaluate(text);
    if (!reading.ok) throw new Error(reading.problem.code);
    expect(Math.abs(reading.value - expected)).toBeLessThanOrEqual(1e-14 * Math.abs(expected));
    expect(Object.is(reading.value, -0)).toBe(false);
  });
});

describe('what has no value is a problem that says why', () => {
  test.each([
    ['1 + 3 m / x', 'division-by-zero', "division by zero in '3 m / x': 'x' is 0 (x = 0"],
    ['1 / (y - 2)', 'division-by-zero', "'y - 2' is 0 (y = 2"],
    ['x ^ -1', 'division-by-zero', "'x' is 0"],
    [
      'sqrt(z)',
      'outside-function-domain',
      "sqrt needs an argument that is not negative, and 'z' is -3 (z = -3",
    ],
    ['ln(x)', 'outside-function-domain', 'ln needs an argument above 0'],
    ['log10(-y)', 'outside-function-domain', "'-y' is -2 (y = 2"],
    ['asin(y)', 'outside-function-domain', 'from -1 to 1'],
    ['acosh(x)', 'outside-function-domain', 'at least 1'],
    ['z ^ 0.5', 'power-without-value', '-3 cannot be raised to 0.5'],
    ['exp(1000 * y)', 'not-finite', "'exp(1000 * y)' is beyond"],
    ['1e300 * 1e300', 'not-finite', "'1e300 * 1e300' is beyond"],
    ['tail * 2', 'absent-value', "'tail' is needed and has no value"],
    ['sum(tail)', 'absent-value', "'tail' is needed"],
    ['sum(1 / (numbers - 7))', 'division-by-zero', 'numbers = 7 (item 3)'],
    ['sum(numbers * sections.length)', 'unequal-lists', "'numbers' has 4 items and 'sections.length' has 3"],
    ['1 when y > 3', 'no-case-applies', 'no case of the formula applies (y = 2'],
    ['sum(y)', 'number-as-list', "there is none in 'y'"],
    ['arrangement + 1', 'choice-as-number', 'is a choice'],
    ['numbers + 1', 'list-as-number', 'is a list'],
  ])('%s', (text, code, message) => {
    const reading = evaluate(text);
    if (reading.ok) throw new Error(`gave ${reading.value}`);
    expect(reading.problem.code).toBe(code);
    expect(wordMessage(reading.problem.code, reading.problem.data as never).message).toContain(message);
  });
  test('an empty list sums to zero and has no largest item', () => {
    const values = new Map([['numbers', []]]);
    expect(evaluate('sum(numbers) + count(numbers)', values)).toEqual({ ok: true, value: 0 });
    const largest = evaluate('max(numbers)', values);
    expect(!largest.ok && largest.problem.code).toBe('empty-list');
  });
});

describe('conditions', () => {
  test.each([
    // The sum of the doubles lies above 0.5 or below; the lengths are equal.
    ['0.17 m + 0.28 m + 0.05 m <= 0.5 m', true],
    ['0.17 m + 0.28 m + 0.05 m >= 0.5 m', true],
    ['0.17 m + 0.28 m + 0.05 m < 0.5 m', false],
    ['0.17 m + 0.28 m + 0.05 m > 0.5 m', false],
    ['0.1 + 0.2 = 0.3', true],
    ['0.1 + 0.2 != 0.3', false],
    ['x = 0', true],
    ['x < 1e-300', true],
    ['arrangement is common-earth', true],
    ['arrangement is not common-earth', false],
    ['arrangement is 3-wire', false],
    ['given tail', false],
    ['given tail and tail > 3 us', false],
    ['not given tail or tail > 3 us', true],
    ['not (y > 1 and z > 1)', true],
    ['y > 1 or z > 1 and x > 1', true],
    ['(y > 1 or z > 1) and x > 1', false],
  ])('%s is %s', (text, expected) => {
    expect(decide(text)).toEqual({ ok: true, value: expected });
  });
  test('a value that decides and is absent is a problem', () => {
    const reading = decide('tail > 3 us');
    expect(!reading.ok && reading.problem.code).toBe('absent-value');
  });
  test('values that differ by more than 1e-9 of the larger are told apart', () => {
    expect(decide('1 < 1.00000001')).toEqual({ ok: true, value: true });
    expect(decide('1 < 1.0000000001')).toEqual({ ok: true, value: false });
  });
});

test('a comparison and its contrary never agree', () => {
  const pairs: readonly (readonly [Comparison, Comparison])[] = [
    ['<', '>='],
    ['>', '<='],
    ['=', '!='],
  ];
  const near = fc.tuple(fc.double({ noNaN: true }), fc.double({ min: -3e-9, max: 3e-9, noNaN: true }));
  fc.assert(
    fc.property(near, ([a, shift]) => {
      const b = a * (1 + shift);
      return pairs.every(([one, other]) => compareValues(a, one, b) !== compareValues(a, other, b));
    }),
  );
});

describe('a formula of pure numbers', () => {
  // IEC 62305-1 annex A, from memory: the rolling sphere radius r = 10 I^0.65 with I in kA and r in m.
  const numeric = new Map([['current', unit('kA')]]);
  const evaluateNumeric = (text: string) => {
    const formula = parseFormula(text);
    if (!formula.ok) throw new Error(formula.problem.code);
    return evaluateFormula(formula.value, VALUES, { numeric });
  };
  test('takes names in their stated units', () => {
    const reading = evaluateNumeric('10 * current ^ 0.65');
    // 10 * 3^0.65: IEC 62305-1 gives the sphere of 20 m to the smallest current of 3 kA.
    expect(reading.ok && reading.value).toBeCloseTo(20.42, 2);
  });
  test('tells values in these units', () => {
    const reading = evaluateNumeric('ln(3 - current)');
    if (reading.ok) throw new Error('gave a value');
    expect(wordMessage(reading.problem.code, reading.problem.data as never).message).toContain(
      'current = 3 kA',
    );
  });
  test('needs the unit of every name', () => {
    const reading = evaluateNumeric('current + y');
    expect(!reading.ok && reading.problem.code).toBe('numeric-unit-missing');
  });
});
