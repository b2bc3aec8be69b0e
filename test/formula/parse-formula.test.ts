import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { wordMessage } from '../../src/diagnostics/messages.ts';
import type { Node } from '../../src/formula/formula.ts';
import { parseCondition, parseFormula } from '../../src/formula/parse-formula.ts';
import { FUNCTION_NAMES, KEYWORDS } from '../../src/formula/words.ts';

/** A tree in one line: operators in front, so that grouping shows. */
function sketch(node: Node): string {
  switch (node.type) {
    case 'number':
      return node.text;
    case 'quantity':
      return `<${node.value} ${node.unit.text}>`;
    case 'name':
      return node.name;
    case 'negative':
      return `(neg ${sketch(node.operand)})`;
    case 'binary':
    case 'comparison':
    case 'logic':
      return `(${node.operator} ${sketch(node.left)} ${sketch(node.right)})`;
    case 'call':
      return `(${[node.function, ...node.arguments.map(sketch)].join(' ')})`;
    case 'parentheses':
      return `[${sketch(node.inner)}]`;
    case 'cases': {
      const cases = node.cases.map(({ value, when }) => `${sketch(value)} if ${sketch(when)}`);
      return `{${[...cases, ...(node.otherwise ? [`${sketch(node.otherwise)} else`] : [])].join('; ')}}`;
    }
    case 'choice':
      return `(is ${node.name} ${node.option})`;
    case 'given':
      return `(given ${node.name})`;
    case 'not':
      return `(not ${sketch(node.operand)})`;
  }
}

describe('an expression is grouped as mathematics groups it', () => {
  test.each([
    ['a + b - c', '(- (+ a b) c)'],
    ['a + b * c', '(+ a (* b c))'],
    ['a * b / c', '(/ (* a b) c)'],
    ['a / b / c', '(/ (/ a b) c)'],
    ['a ^ b ^ c', '(^ a (^ b c))'],
    ['-a ^ 2', '(neg (^ a 2))'],
    ['a ^ -b', '(^ a (neg b))'],
    ['-a * b + c', '(+ (neg (* a b)) c)'],
    ['a * -b', '(* a (neg b))'],
    ['a - -b', '(- a (neg b))'],
    ['(a + b) * c', '(* [(+ a b)] c)'],
    ['a · b × c − d', '(- (* (* a b) c) d)'],
    ['a² + b³', '(+ (^ a 2) (^ b 3))'],
    ['a²^b', '(^ (^ a 2) b)'],
    ['min(a, b, c)', '(min a b c)'],
    ['sum(sections.length)', '(sum sections.length)'],
    ['{tx1-as-found.line_lead} - b', '(- tx1-as-found.line_lead b)'],
    ['2 * pi * r', '(* (* 2 pi) r)'],
    ['1e-3 + .5 + 2E+6', '(+ (+ 1e-3 .5) 2E+6)'],
    ['min + 1', '(+ min 1)'],
    ['a when b < c; d otherwise', '{a if (< b c); d else}'],
    ['a when b < c; d when not e >= f and given g', '{a if (< b c); d if (and (not (>= e f)) (given g))}'],
    ['(a when b < c; d otherwise) * 2', '(* [{a if (< b c); d else}] 2)'],
  ])('%s', (text, expected) => {
    const reading = parseFormula(text);
    expect(reading.ok && sketch(reading.value.root)).toBe(expected);
  });
});

describe('a number with a unit behind it is one quantity', () => {
  test.each([
    ['0.3 m', '<0.3 m>'],
    ['0.3m', '<0.3 m>'],
    ['10 kA/us', '<10 kA/us>'],
    ['50 ohm m', '<50 ohm m>'],
    ['50 Ω m', '<50 ohm m>'],
    ['1 µH/m + 1 μH/m', '(+ <1 uH/m> <1 uH/m>)'],
    ['20 %', '<20 %>'],
    ['20 % * a', '(* <20 %> a)'],
    ['50 mm^2 + 50 mm²', '(+ <50 mm^2> <50 mm^2>)'],
    ['385 J/(kg K)', '<385 J/(kg K)>'],
    ['0.1 1/km^2/year', '<0.1 1/km^2/year>'],
    ['5 min', '<5 min>'],
    ['10 kA / us', '(/ <10 kA> us)'],
    ['10 kA/ us', '(/ <10 kA> us)'],
    ['10 kA /us', '(/ <10 kA> us)'],
    ['10 m/2', '(/ <10 m> 2)'],
    ['10 m/(2 * a)', '(/ <10 m> [(* 2 a)])'],
    ['10 m/line_lead', '(/ <10 m> line_lead)'],
    ['3 m when a is b; 4 m otherwise', '{<3 m> if (is a b); <4 m> else}'],
    ['a when b > 3 m and c < 2 s', '{a if (and (> b <3 m>) (< c <2 s>))}'],
    ['(0.5 m)^2', '(^ [<0.5 m>] 2)'],
  ])('%s', (text, expected) => {
    const reading = parseFormula(text);
    expect(reading.ok && sketch(reading.value.root)).toBe(expected);
  });
});

describe('a condition', () => {
  test.each([
    ['x <= 2 m', '(<= x <2 m>)'],
    ['x ≤ 2', '(<= x 2)'],
    ['x != 2', '(!= x 2)'],
    ['a is common-earth', '(is a common-earth)'],
    ['a is not common-earth', '(not (is a common-earth))'],
    ['a is 3-wire', '(is a 3-wire)'],
    ['a is not-applicable', '(is a not-applicable)'],
    ['given steepness', '(given steepness)'],
    ['not given steepness', '(not (given steepness))'],
    ['a < 1 or b < 2 and c < 3', '(or (< a 1) (and (< b 2) (< c 3)))'],
    ['not a < 1 and b < 2', '(and (not (< a 1)) (< b 2))'],
    ['(a < 1 or b < 2) and c < 3', '(and [(or (< a 1) (< b 2))] (< c 3))'],
    ['(a + 1) * 2 > b', '(> (* [(+ a 1)] 2) b)'],
  ])('%s', (text, expected) => {
    const reading = parseCondition(text);
    expect(reading.ok && sketch(reading.value.root)).toBe(expected);
  });
});

test('names come once each, in the order of the text, without constants and functions', () => {
  const reading = parseFormula('b * pi + {r-1.a} when a is z-1 and given c; sum(rows.d) + b otherwise');
  expect(reading.ok && reading.value.names).toEqual(['b', 'r-1.a', 'a', 'c', 'rows.d']);
});

test('every node knows its text', () => {
  const reading = parseFormula('  -a + ( b  * 3 kA/us )');
  if (!reading.ok || reading.value.root.type !== 'binary') throw new Error('not parsed');
  const { root, text } = reading.value;
  expect([root, root.left, root.right].map(({ span }) => text.slice(span.start, span.end))).toEqual([
    '-a + ( b  * 3 kA/us )',
    '-a',
    '( b  * 3 kA/us )',
  ]);
});

/** Each fault with its code and the text that the message marks. */
const FAULTS: readonly (readonly [text: string, code: string, marked: string])[] = [
  ['a +', 'formula-unexpected', ''],
  ['a + * b', 'formula-unexpected', '*'],
  ['(a + b', 'formula-unclosed', '('],
  ['{a', 'formula-unclosed', '{'],
  ['{}', 'formula-unexpected', '{}'],
  ['a + b)', 'formula-unexpected', ')'],
  ['a b', 'missing-operator', 'a b'],
  ['a (b)', 'unknown-function', 'a'],
  ['2 (a)', 'missing-operator', '2 ('],
  ['2 sqrt(a)', 'missing-operator', 'sqrt'],
  ['2 line_lead', 'missing-operator', 'line_lead'],
  ['2 L', 'not-a-unit-after-number', 'L'],
  ['2 x', 'not-a-unit-after-number', 'x'],
  ['3 m/length', 'not-a-unit-after-number', 'length'],
  ['3 J/kg K', 'ambiguous-unit', 'J/kg K'],
  ['2 m^x', 'power-of-quantity', '2 m'],
  ['2 m ²', 'power-of-quantity', '2 m'],
  ['2 m^0.5', 'power-of-quantity', '2 m'],
  ['1,5 * a', 'decimal-comma', '1,5'],
  ['1 000 * a', 'digit-grouping', '1 000'],
  ['1e999', 'number-out-of-range', '1e999'],
  ['a * 3e-350', 'number-out-of-range', '3e-350'],
  ['a + 2,750 * b', 'ambiguous-comma', '2,750'],
  ['a + 2.750.000 * b', 'digit-grouping', '2.750.000'],
  ['a + 2 750,5 * b', 'decimal-comma', '2 750,5'],
  ['max(a, 2,5)', 'ambiguous-list-comma', '2,5'],
  ['max(2,750 * b, a)', 'ambiguous-list-comma', '2,750'],
  ['min(a, (b + 0,25))', 'ambiguous-list-comma', '0,25'],
  ['log(a)', 'unknown-function', 'log'],
  ['squrt(a)', 'unknown-function', 'squrt'],
  ['sqrt(a, b)', 'argument-count', 'sqrt(a, b)'],
  ['count(a + b)', 'count-of-expression', 'a + b'],
  ['min()', 'formula-unexpected', ')'],
  ['a ** b', 'formula-unexpected', '*'],
  ['a == b', 'formula-unexpected', '='],
  ['a & b', 'formula-character', '&'],
  ['[a]', 'formula-character', '['],
  ['a 😀', 'formula-character', '😀'],
  ['a < b', 'condition-where-value', 'a < b'],
  ['(a < b) + 1', 'condition-where-value', '(a < b)'],
  ['a when b', 'value-where-condition', 'b'],
  ['a when b < c; d', 'case-without-condition', 'd'],
  ['a otherwise; b when c < d', 'case-after-otherwise', 'b'],
  ['a when b < c;', 'formula-unexpected', ''],
  ['a when b < c < d', 'chained-comparison', '<'],
  ['a when b + 1 is c', 'formula-unexpected', 'b + 1'],
  ['a when b is', 'formula-unexpected', ''],
  ['a when given 3', 'formula-unexpected', '3'],
  ['when', 'formula-unexpected', 'when'],
];

describe('a fault is marked where it stands', () => {
  test.each(FAULTS)('%s', (text, code, marked) => {
    const reading = parseFormula(text);
    if (reading.ok) throw new Error(`parsed as ${sketch(reading.value.root)}`);
    const { span } = reading.problem;
    expect(reading.problem.code).toBe(code);
    expect(span && text.slice(span.start, span.end)).toBe(marked);
    expect(wordMessage(reading.problem.code, reading.problem.data as never).message).not.toMatch(
      /undefined|\[obj/,
    );
  });
});

test('a value is no condition', () => {
  const reading = parseCondition('a + 1');
  expect(!reading.ok && reading.problem.code).toBe('value-where-condition');
});

test('messages say what to write instead', () => {
  const hintOf = (text: string) => {
    const reading = parseFormula(text);
    return reading.ok ? '' : wordMessage(reading.problem.code, reading.problem.data as never).hint;
  };
  expect(hintOf('squrt(a)')).toBe("did you mean 'sqrt'?");
  expect(hintOf('log(a)')).toBe("did you mean 'ln' or 'log10'?");
  expect(hintOf('2 kv')).toMatch(/did you mean 'kV'/);
  expect(hintOf('1,5')).toBe('write a decimal point: 1.5');
  expect(hintOf('a b')).toBe('a product is written with its sign: a * b');
});

describe('limits', () => {
  const codeOf = (text: string) => {
    const reading = parseFormula(text);
    return reading.ok ? 'parsed' : reading.problem.code;
  };
  test.each([
    ['no text', ' ', 'formula-empty'],
    ['long text', `a + ${'b'.repeat(5000)}`, 'formula-too-long'],
    ['parentheses', `${'('.repeat(500)}a${')'.repeat(500)}`, 'formula-too-deep'],
    ['calls', `${'abs('.repeat(500)}a${')'.repeat(500)}`, 'formula-too-deep'],
    ['signs', `${'-'.repeat(3000)}a`, 'formula-too-deep'],
    ['powers', `a${'^a'.repeat(1500)}`, 'formula-too-deep'],
    ['negations', `a when ${'not '.repeat(900)}b < c`, 'formula-too-deep'],
    ['superscripts', `a${'²'.repeat(3000)}`, 'formula-too-large'],
    ['terms', `a${'+a'.repeat(1900)}`, 'formula-too-large'],
    ['a long sum that is still read', `a${'+a'.repeat(500)}`, 'parsed'],
    ['forty parentheses', `${'('.repeat(40)}a${')'.repeat(40)}`, 'parsed'],
  ])('%s', (_, text, code) => {
    expect(codeOf(text)).toBe(code);
  });
});

const WORDS = [
  ...FUNCTION_NAMES,
  ...KEYWORDS,
  'a',
  'line_lead',
  'b.c',
  '{r-1.x}',
  '{',
  '}',
  'pi',
  '2',
  '0.3',
  '1e-3',
];
const SIGNS = [
  ...'+-*/^()=<>,;·×−²³%°[]|!&',
  '<=',
  '!=',
  ' m',
  ' kA/us',
  ' ohm m',
  ' 1/km^2',
  ' J/(kg K)',
  ' ',
];

describe('no text makes the parser throw', () => {
  const parse = (text: string) => {
    for (const reading of [parseFormula(text), parseCondition(text)]) {
      if (reading.ok) continue;
      const { span, code, data } = reading.problem;
      expect(wordMessage(code, data as never).message).toBeTypeOf('string');
      if (span) expect(0 <= span.start && span.start <= span.end && span.end <= text.length).toBe(true);
    }
  };
  test('any characters', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 200 }), parse), { numRuns: 1000 });
  });
  test('any words of the language', () => {
    const words = fc
      .array(fc.constantFrom(...WORDS, ...SIGNS), { maxLength: 40 })
      .map((parts) => parts.join(''));
    fc.assert(fc.property(words, parse), { numRuns: 3000 });
  });
});
