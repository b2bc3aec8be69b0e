import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { FormulaValues, ShownValues } from '../../src/formula/formula.ts';
import { parseCondition, parseFormula } from '../../src/formula/parse-formula.ts';
import { typesetFormula, typesetNumbers } from '../../src/formula/typeset-formula.ts';
import { FUNCTION_NAMES, FUNCTIONS } from '../../src/formula/words.ts';
import { writeTex } from '../../src/page/math/write-tex.ts';
import { type Displayed, displaySi } from '../../src/quantity/display.ts';
import { unit } from '../../src/quantity/unit.ts';
import { readByKatex } from './read-by-katex.ts';
import { SYMBOLS, VALUES } from './symbols-for-tests.ts';

const show = (si: number, unitText: string) => displaySi(si, unit(unitText));

const SHOWN: ShownValues = new Map<string, Displayed | readonly Displayed[] | string>([
  ['line_lead', show(1.8, 'm')],
  ['earth_lead', show(7.5, 'm')],
  ['inductance', show(1e-6, 'uH/m')],
  ['steepness', show(1e10, 'kA/us')],
  ['residual_voltage', show(33e3, 'kV')],
  ['current', show(3000, 'kA')],
  ['resistivity', show(100, 'ohm m')],
  ['time', show(1e-6, 'us')],
  ['x', show(-3, '1')],
  ['y', show(1.23e6, '1')],
  ['z', show(0.5, '1')],
  ['sections.length', [1, 2, 3].map((si) => show(si, 'm'))],
  ['sections.inductance', [1e-6, 2e-6, 3e-6].map((si) => show(si, 'uH/m'))],
  ['numbers', Array.from({ length: 21 }, (_, i) => show(i + 1, '1'))],
  ['arrangement', 'common-earth'],
]);

function parse(text: string) {
  const formula = parseFormula(text);
  if (!formula.ok) throw new Error(`${text}: ${formula.problem.code}`);
  return formula.value;
}

function symbols(text: string): string {
  const tex = writeTex(typesetFormula(parse(text), SYMBOLS));
  readByKatex(tex);
  return tex;
}

function numbers(text: string, values?: FormulaValues): string {
  const tex = writeTex(typesetNumbers(parse(text), SYMBOLS, SHOWN, values));
  readByKatex(tex);
  return tex;
}

describe('the line with symbols', () => {
  test.each([
    ['line_lead + 0.3 m', '\\ell_{1} + 0.3\\,\\mathrm{m}'],
    ['inductance * (line_lead + earth_lead) * steepness', "L'\\,(\\ell_{1} + \\ell_{2})\\,S"],
    ['x * y / z', "\\frac{x\\,y'}{z^{*}}"],
    ['(x * y) / (z + 1)', "\\frac{x\\,y'}{z^{*} + 1}"],
    ['x / y * z', "\\frac{x}{y'}\\,z^{*}"],
    ['x * (y / z)', "x\\,\\left( \\frac{y'}{z^{*}} \\right)"],
    ['x * (y * z)', "x\\,(y'\\,z^{*})"],
    ['2 * pi * x', '2\\,\\pi\\,x'],
    ['2 * 3 * x * 4', '2 \\cdot 3\\,x \\cdot 4'],
    ['x * 2 ^ y', "x \\cdot 2^{y'}"],
    ['0.3 m * x', '0.3\\,\\mathrm{m} \\cdot x'],
    ['-x * y + z', "-x\\,y' + z^{*}"],
    ['x * -y', "x\\,(-y')"],
    ['x - -y', "x - (-y')"],
    ['-(x + y)', "-(x + y')"],
    ['x² + y^2 + z^2', "x^{2} + {y'}^{2} + {z^{*}}^{2}"],
    ['(x + 1)^(1/2)', '(x + 1)^{1/2}'],
    ['x^(-1/2)', 'x^{-1/2}'],
    ['x^(-(y + 1))', "x^{-(y' + 1)}"],
    ['x^((y + 1)/2)', "x^{(y' + 1)/2}"],
    ['x ^ y ^ 2', "x^{{y'}^{2}}"],
    ['(0.5 m)²', '(0.5\\,\\mathrm{m})^{2}'],
    ['sqrt((x + 1))', '\\sqrt{x + 1}'],
    ['exp(-time / tail)', '\\exp\\left( -\\frac{t}{\\tau} \\right)'],
    ['ln((x + y))', "\\ln(x + y')"],
    ['ln(x)^2', '(\\ln(x))^{2}'],
    ['sqrt(x)^2', '\\left( \\sqrt{x} \\right)^{2}'],
    ['log10(x) * asinh(y)', "\\log_{10}(x)\\,\\operatorname{arsinh}(y')"],
    ['abs(x - y) + ceil(z)', "\\left| x - y' \\right| + \\left\\lceil z^{*} \\right\\rceil"],
    ['max(x, y, 1e-3)', "\\max(x,\\, y',\\, 10^{-3})"],
    ['2.5e-7 H/m', '2.5 \\times\\nobreak 10^{-7}\\,\\mathrm{H}/\\mathrm{m}'],
    ['(1e3)^2', '(10^{3})^{2}'],
    ['4e-6 deg', '4 \\times\\nobreak 10^{-6}{}^\\circ'],
    ['30 deg + 20 %', '30^\\circ + 20\\,\\%'],
    ['sum(sections.length)', '\\sum_{i} \\ell_{i}'],
    ['sum(sections.length * sections.inductance)', "\\sum_{i} \\ell_{i}\\,L'_{i}"],
    ['sum(sections.length + 1 m)', '\\sum_{i} (\\ell_{i} + 1\\,\\mathrm{m})'],
    ['sum(sections.length) * x', '\\left( \\sum_{i} \\ell_{i} \\right)\\,x'],
    ['x * sum(sections.length)', 'x\\,\\sum_{i} \\ell_{i}'],
    ['max(sections.length)', '\\max_{i} \\ell_{i}'],
    ['{tx1-as-found.line_lead} - 1 m', '\\ell_{1} - 1\\,\\mathrm{m}'],
    [
      'line_lead when x <= 2 and arrangement is not 3-wire; 3 m otherwise',
      '\\begin{cases} \\ell_{1} & \\text{if }x \\le 2\\ \\text{and}\\ a \\ne \\text{3-wire} \\\\ 3\\,\\mathrm{m} & \\text{otherwise} \\end{cases}',
    ],
    [
      'x / y when given tail; 3 when not given time',
      "\\begin{dcases} \\frac{x}{y'} & \\text{if }\\tau\\ \\text{is given} \\\\ 3 & \\text{if }t\\ \\text{is not given} \\end{dcases}",
    ],
  ])('%s', (text, expected) => {
    expect(symbols(text)).toBe(expected);
  });
});

describe('the line with numbers put in', () => {
  test.each([
    ['line_lead + 0.3 m', '1.80\\,\\mathrm{m} + 0.3\\,\\mathrm{m}'],
    [
      'inductance * line_lead * steepness',
      '1.00\\,\\text{µH}/\\mathrm{m} \\cdot 1.80\\,\\mathrm{m} \\cdot 10.0\\,\\mathrm{kA}/\\text{µs}',
    ],
    ['line_lead^2', '(1.80\\,\\mathrm{m})^{2}'],
    ['(line_lead)^2', '(1.80\\,\\mathrm{m})^{2}'],
    ['y^2', '(1.23 \\times\\nobreak 10^{6})^{2}'],
    ['z^2', '0.500^{2}'],
    ['x + x', '-3.00 + (-3.00)'],
    ['z - x', '0.500 - (-3.00)'],
    ['z * x', '0.500 \\cdot (-3.00)'],
    ['x * z', '-3.00 \\cdot 0.500'],
    ['z - x * z', '0.500 - (-3.00 \\cdot 0.500)'],
    ['x^2', '(-3.00)^{2}'],
    ['-x', '-(-3.00)'],
    ['z / x', '\\frac{0.500}{-3.00}'],
    ['abs(x)', '\\left| -3.00 \\right|'],
    ['sqrt(x + z)', '\\sqrt{-3.00 + 0.500}'],
    ['2 * pi * line_lead', '2 \\cdot \\pi \\cdot 1.80\\,\\mathrm{m}'],
    ['sum(sections.length)', '1.00\\,\\mathrm{m} + 2.00\\,\\mathrm{m} + 3.00\\,\\mathrm{m}'],
    [
      'z * sum(sections.length)',
      '0.500 \\cdot (1.00\\,\\mathrm{m} + 2.00\\,\\mathrm{m} + 3.00\\,\\mathrm{m})',
    ],
    [
      '4 m - sum(sections.length)',
      '4\\,\\mathrm{m} - (1.00\\,\\mathrm{m} + 2.00\\,\\mathrm{m} + 3.00\\,\\mathrm{m})',
    ],
    [
      'sum(sections.length * x)',
      '1.00\\,\\mathrm{m} \\cdot (-3.00) + 2.00\\,\\mathrm{m} \\cdot (-3.00) + 3.00\\,\\mathrm{m} \\cdot (-3.00)',
    ],
    [
      'sum(x * sections.length)',
      '-3.00 \\cdot 1.00\\,\\mathrm{m} + (-3.00 \\cdot 2.00\\,\\mathrm{m}) + (-3.00 \\cdot 3.00\\,\\mathrm{m})',
    ],
    ['sum(numbers)', '1.00 + 2.00 + \\dots + 21.0'],
    ['max(numbers)', '\\max(1.00,\\, 2.00,\\, \\dots,\\, 21.0)'],
    ['min(sections.length)', '\\min(1.00\\,\\mathrm{m},\\, 2.00\\,\\mathrm{m},\\, 3.00\\,\\mathrm{m})'],
    ['count(numbers) * z', '21 \\cdot 0.500'],
    ['tail + time', '\\tau + 1.00\\,\\text{µs}'],
  ])('%s', (text, expected) => {
    expect(numbers(text)).toBe(expected);
  });

  test('of cases only the one that applies', () => {
    const text = 'x when arrangement is 3-wire; line_lead / (2 m) when given time; 3 otherwise';
    expect(numbers(text, VALUES)).toBe('\\frac{1.80\\,\\mathrm{m}}{2\\,\\mathrm{m}}');
    expect(numbers(`2 * (${text})`, VALUES)).toBe('2 \\cdot \\frac{1.80\\,\\mathrm{m}}{2\\,\\mathrm{m}}');
    expect(numbers(text)).toContain('\\begin{dcases}');
  });

  test('of cases of pure numbers the one that applies in the stated unit', () => {
    const formula = parse('2 * current when current < 100; current otherwise');
    const numeric = new Map([['current', unit('kA')]]);
    const shown = new Map([['current', show(3, '1')]]);
    expect(writeTex(typesetNumbers(formula, SYMBOLS, shown, VALUES, { numeric }))).toBe('2 \\cdot 3.00');
  });
});

test('a name without declared LaTeX is printed upright, and its signs do not become commands', () => {
  expect(symbols('{soil_1.rho&$%#}')).toBe('\\text{soil\\_1.rho\\&\\$\\%\\#}');
});

describe('conditions', () => {
  test.each([
    ['x >= 2', 'x \\ge 2'],
    ['x != y', "x \\ne y'"],
    ['arrangement is common-earth', 'a = \\text{common earth}'],
    ['not (x > 2 or given tail)', '\\text{not}\\ (x > 2\\ \\text{or}\\ \\tau\\ \\text{is given})'],
    ['(x < 2 or x > 3) and x = y', "(x < 2\\ \\text{or}\\ x > 3)\\ \\text{and}\\ x = y'"],
  ])('%s', (text, expected) => {
    const formula = parseCondition(text);
    if (!formula.ok) throw new Error(formula.problem.code);
    const tex = writeTex(typesetFormula(formula.value, SYMBOLS));
    readByKatex(tex);
    expect(tex).toBe(expected);
  });
});

/** Random formulas of every construction; they need not have a value, only a printed form. */
const { value } = fc.letrec<{ value: string; condition: string }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 5, depthSize: 'medium' },
    fc.constantFrom(
      'x',
      'y',
      'z',
      'line_lead',
      'steepness',
      'tail',
      'pi',
      '2',
      '1e-3',
      '0.3 m',
      '10 kA/us',
      '20 %',
      '5 °C',
      '(2 m)²',
    ),
    fc
      .tuple(tie('value'), fc.constantFrom('+', '-', '*', '/', '^'), tie('value'))
      .map(([a, sign, b]) => `(${a}) ${sign} (${b})`),
    fc
      .tuple(
        fc.constantFrom('x', 'z', 'line_lead', '2'),
        fc.constantFrom('+', '-', '*', '/', '^'),
        fc.constantFrom('y', '-x', '-z', 'tail', '3'),
      )
      .map((t) => t.join('')),
    tie('value').map((a) => `-(${a})`),
    fc
      .tuple(fc.constantFrom(...FUNCTION_NAMES.filter((n) => n !== 'count')), tie('value'))
      .map(([name, a]) => `${name}(${FUNCTIONS[name].overLists ? `numbers * (${a})` : `(${a})`})`),
    fc.tuple(tie('value'), tie('value')).map(([a, b]) => `max((${a}), (${b})) * count(numbers)`),
    fc
      .tuple(tie('value'), tie('condition'), tie('value'))
      .map(([a, when, b]) => `((${a}) when ${when}; (${b}) otherwise)`),
  ),
  condition: fc.oneof(
    { maxDepth: 2 },
    fc.constantFrom('arrangement is 3-wire', 'arrangement is not 3-wire', 'given tail', 'x <= 2', 'y != z'),
    fc
      .tuple(tie('condition'), fc.constantFrom('and', 'or'), tie('condition'))
      .map(([a, word, b]) => `(${a}) ${word} not (${b})`),
    fc.tuple(tie('value'), tie('value')).map(([a, b]) => `(${a}) >= (${b})`),
  ),
}));

test('KaTeX in strict mode reads every formula, with symbols and with numbers', () => {
  let read = 0;
  fc.assert(
    fc.property(value, (text) => {
      const formula = parseFormula(text);
      if (!formula.ok) {
        // Random texts may pass the limits of depth and size, and nothing else.
        expect(formula.problem.code).toMatch(/^formula-too-/);
        return;
      }
      readByKatex(writeTex(typesetFormula(formula.value, SYMBOLS)));
      readByKatex(writeTex(typesetNumbers(formula.value, SYMBOLS, SHOWN, VALUES)));
      read += 1;
    }),
    { numRuns: 300, seed: 11 },
  );
  expect(read).toBeGreaterThan(200);
});
