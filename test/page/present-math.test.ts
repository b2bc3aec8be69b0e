import { expect, test } from 'vitest';
import type { MathPiece } from '../../src/formula/math-piece.ts';
import { parseFormula } from '../../src/formula/parse-formula.ts';
import { typesetFormula, typesetNumbers } from '../../src/formula/typeset-formula.ts';
import { composeMath, composePiece, displayTex, type TypesetMath } from '../../src/page/math/typeset-math.ts';
import { unfoldMath } from '../../src/page/math/unfold-math.ts';
import { writeTex } from '../../src/page/math/write-tex.ts';
import { displaySi } from '../../src/quantity/display.ts';
import { unit } from '../../src/quantity/unit.ts';
import { SYMBOLS, VALUES } from '../formula/symbols-for-tests.ts';

const FORMULAS = [
  'line_lead + 0.3 m',
  'inductance * (line_lead + earth_lead) * steepness',
  '(x * y) / (z + 1)',
  'x / y * z - 2.5e-7 * x',
  'x * (-y) + -(x + y)',
  'x^2 + y^2 + line_lead^2 + (x + 1)^(1/2)',
  'x^((y + 1)/2)',
  'exp(-time / tail) * ln(x + y)^2',
  'log10(x) * asinh(y) + sqrt(x / y)',
  'abs(x - y) + ceil(z) + floor(x / y)',
  'max(x, y, 1e-3) * 20 % + sin(30 deg)',
  'sum(sections.length * sections.inductance) * x',
  'max(sections.length) + product(sections.length)',
  'count(numbers) * 0.25 A * steepness',
  'line_lead when x <= 2 and arrangement is not 3-wire; x / y when not given tail; 3 m otherwise',
  '{soil_1.rho&$%#} * 2',
];

const SHOWN = new Map([
  ['line_lead', displaySi(1.8, unit('m'))],
  ['earth_lead', displaySi(7.5, unit('m'))],
  ['inductance', displaySi(1e-6, unit('uH/m'))],
  ['steepness', displaySi(1e10, unit('kA/us'))],
  ['x', displaySi(-3, unit('1'))],
  ['y', displaySi(1.23e-7, unit('ohm m'))],
  ['time', displaySi(1e-6, unit('us'))],
]);

function parse(text: string) {
  const formula = parseFormula(text);
  if (!formula.ok) throw new Error(text);
  return formula.value;
}

/** Both lines of a formula, and what they are when all is taken apart. */
function piecesOf(text: string): MathPiece[] {
  const formula = parse(text);
  const lines = [
    typesetFormula(formula, SYMBOLS),
    typesetNumbers(formula, SYMBOLS, SHOWN, new Map([...VALUES, ['x', -3]])),
  ];
  return lines.flatMap((line) => [line, unfoldMath(line, 'fractions'), unfoldMath(line, 'everything')]);
}

/** KaTeX sets a bar that does not grow as a letter: the blanks around it say nothing. */
function apartFromBars(speech: string): string {
  return speech.replace(/\s*\|\s*/g, ' | ').trim();
}

function must(set: ReturnType<typeof composeMath>): TypesetMath {
  if (!set.ok) throw new Error(JSON.stringify(set.problem));
  return set.value;
}

/** KaTeX reads the LaTeX of the whole by itself: what it makes of it in MathML knows nothing of the pieces. */
test.each(FORMULAS)('the pieces of %s are read aloud and measured as the MathML of the whole', (text) => {
  for (const piece of piecesOf(text)) {
    const ours = must(composePiece(piece, true));
    const whole = must(composeMath(displayTex(writeTex(piece))));
    expect(apartFromBars(ours.speech)).toBe(apartFromBars(whole.speech));
    expect(ours.width.whole).toBeGreaterThan(whole.width.whole * 0.99);
    expect(ours.width.whole).toBeLessThan(whole.width.whole * 1.02 + 0.2);
    expect(ours.width.longestPiece).toBeGreaterThan(whole.width.longestPiece * 0.99);
  }
});

test('a number with a power of ten is one piece, which no line breaks; its unit stays with it', () => {
  const piece = typesetNumbers(parse('y + y'), SYMBOLS, SHOWN);
  const { html, width } = must(composePiece(piece, true));
  // Two quantities and the sign between them: KaTeX puts what may part into bases of their own.
  expect(html.split('class="base"').length - 1).toBe(2);
  expect(width.longestPiece).toBeGreaterThan(width.whole / 2);
});
