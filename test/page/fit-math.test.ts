import { expect, test } from 'vitest';
import { parseFormula } from '../../src/formula/parse-formula.ts';
import { typesetFormula } from '../../src/formula/typeset-formula.ts';
import { fitMath, fitTex, STEP_EM } from '../../src/page/math/fit-math.ts';
import { readTex } from '../../src/page/math/read-tex.ts';
import { setTex } from '../../src/page/math/set-math.ts';
import { type Unfolding, unfoldMath } from '../../src/page/math/unfold-math.ts';
import { writeTex } from '../../src/page/math/write-tex.ts';
import { PURE_UNIT } from '../../src/quantity/unit.ts';

/** An author's LaTeX taken apart, with single blanks. */
function unfoldTex(tex: string, unfolding: Unfolding = 'fractions'): string | undefined {
  const piece = readTex(tex);
  return piece && writeTex(unfoldMath(piece, unfolding)).replace(/\s+/g, ' ');
}

test.each([
  ['\\frac{a+b}{c}', '(a+b)\\,/\\,c'],
  ['\\frac{1}{2}', '1\\,/\\,2'],
  ['x \\left( \\frac{a b}{c_1} \\right)', 'x ( (a b)\\,/\\,(c_1) )'],
  ['\\sqrt{\\frac{a}{b}}', '\\sqrt{\\frac{a}{b}}'],
  ['\\frac{\\frac{a}{b}}{d}', '(a\\,/\\,b)\\,/\\,d'],
  ['\\leftarrow \\{ \\frac{a}{\\text{\\}}}', '\\leftarrow \\{ a\\,/\\,(\\text{\\}})'],
])('%s on one line is %s', (tex, line) => {
  expect(unfoldTex(tex)).toBe(line.replace(/\s+/g, ' '));
});

const many = (count: number) => Array.from({ length: count }, (_, i) => `${i}.35\\,\\mathrm{m}`).join(' + ');

test('what has room stays as it is, what lacks a little is made smaller, what lacks much is written on one line', () => {
  expect(fitTex(`\\frac{${many(5)}}{2}`, 36)).toMatchObject({ size: '' });
  expect(fitTex(`\\frac{${many(9)}}{2}`, 36).size).toBe('size-90');
  const unfolded = fitTex(`\\frac{${many(30)}}{2}`, 36);
  expect(unfolded.size).toBe('');
  expect(unfolded.html).not.toContain('mfrac');
});

test.each([
  ['\\sqrt{a + \\frac{b}{c}}', '(a + b\\,/\\,c)^{1/2}'],
  ['2^{n}', '2^{n}'],
  [`2^{${'a + '.repeat(20)}b}`, `2\\mathbin{\\text{\\textasciicircum}}(${'a + '.repeat(20)}b)`],
  [
    '\\begin{cases} \\frac{a}{b} & \\text{if } x > 1 \\\\ c & \\text{otherwise} \\end{cases}',
    'a\\,/\\,b\\ \\allowbreak \\text{if } x > 1;\\allowbreak\\; c\\ \\allowbreak \\text{otherwise}',
  ],
  ['\\left\\lfloor \\frac{a}{b} \\right\\rfloor + \\left| x \\right|', '\\lfloor a\\,/\\,b \\rfloor + | x |'],
  ['2.5\\,\\mathrm{m}\\,\\ell_1\\,x', '2.5\\,\\mathrm{m}\\,\\allowbreak \\ell_1\\,\\allowbreak x'],
  ['\\max(a,\\, b)', '\\max(a,\\allowbreak \\, b)'],
])('with everything taken apart %s is %s', (tex, line) => {
  expect(unfoldTex(tex, 'everything')).toBe(line.replace(/\s+/g, ' '));
});

test('what holds a switch, which would act on what follows its group, stays as it was written', () => {
  expect(unfoldTex('x + \\frac{a \\over b}{c}')).toBeUndefined();
});

/** Widest piece that cannot be broken, in em of the column's type, at the size that was chosen. */
function widestShown({ html, size }: ReturnType<typeof fitTex>): number {
  const percent = size === '' ? 100 : Number(size.slice('size-'.length));
  const bases = html.split('<span class="base">').slice(1);
  // Every sign of a piece is some text: half an em each is a rough measure from below.
  const signs = bases.map((base) => base.replace(/<[^>]*>/g, '').length);
  return (Math.max(...signs) * 0.35 * percent) / 100;
}

test("formulas of one's own of hundreds of parts keep to the column, whatever they are made of", () => {
  const names = Array.from({ length: 90 }, (_, i) => `x${i}`);
  const symbols = new Map(
    names.map((name, i) => [
      name,
      { type: 'number' as const, tex: `\\ell_{${i}}`, dimension: PURE_UNIT.dimension },
    ]),
  );
  const sum = names.join(' + ');
  for (const text of [
    sum,
    `sqrt(${sum})`,
    `(${sum}) / (1 + ${sum})`,
    `max(${names.join(', ')})`,
    `2^(${sum})`,
    `${names.join(' * ')}`,
    `abs(${sum} - 3) + floor(${sum})`,
    `${sum} when x1 > x2; ${names.join(' * ')} when x2 > x3; 1 / (${sum}) otherwise`,
    `1 / (1 + 1 / (${sum}))`,
    `exp(sqrt((${sum}) / (${names.join(' * ')})))`,
  ]) {
    const parsed = parseFormula(text);
    if (!parsed.ok) throw new Error(text);
    const fitted = fitMath(typesetFormula(parsed.value, symbols), STEP_EM);
    expect(fitted.size, text.slice(0, 20)).toMatch(/^(?:size-90)?$/);
    expect(fitted.isTooWide, text.slice(0, 20)).toBe(false);
    expect(widestShown(fitted), text.slice(0, 20)).toBeLessThan(STEP_EM);
  }
});

test('a long list of results may be broken after every item', () => {
  const items = Array.from({ length: 200 }, (_, i) => `${i}.25\\,\\mathrm{kV}`);
  const { html, width } = setTex(items.join(';\\allowbreak\\; '));
  expect(width.longestPiece).toBeLessThan(6);
  expect(html.split('class="base"').length - 1).toBe(200);
});

test("an author's formula that reads only as it was written stays so, and says that it is too wide", () => {
  const set = (parts: number) => fitTex(`\\left( \\frac{${many(parts)}}{2} \\right.`, 40);
  expect(set(40).isTooWide).toBe(true);
  expect(set(5).isTooWide).toBe(false);
});

const SPEECH = / aria-label="[^"]*"/;

test.each([
  "x'^{2}_{a} + \\alpha b \\times 3",
  "u = L' \\, \\ell \\, \\frac{\\mathrm{d}i}{\\mathrm{d}t} \\approx L' \\, s ,",
  '\\begin{cases} \\frac{a}{b} & x > 1 \\\\ c \\end{cases}',
  '\\begin{dcases} a & b & c \\end{dcases}',
  '\\left[ \\sqrt{1 + \\left( 2 \\right\\} } \\right]',
  '\\sqrt[3]{x_12^3} \\leftarrow \\text{a \\} $b$}',
  '\\begin{aligned} a &= \\frac{1}{2} \\\\ b &= \\left( c \\right) \\end{aligned}',
  '\\frac12 + \\frac{a}b + 3.5\\,\\mathrm{m}^{2}, x',
])('what is understood of %s and written again is set as before', (tex) => {
  expect(setTex(writeTex(readTex(tex)!)).html.replace(SPEECH, '')).toBe(setTex(tex).html.replace(SPEECH, ''));
});

test('in prose too no line ends between a number and its power of ten', () => {
  for (const tex of ['1.4 \\times 10^{-5}', '1.4\\times10^{-5}']) {
    expect(fitTex(tex, 40).html.split('class="base"').length - 1).toBe(1);
  }
  expect(fitTex('1.4 \\times 10', 40).html.split('class="base"').length - 1).toBe(2);
});

test('a minus that begins a line belongs to its number, and no blank parts them', () => {
  const line = (tex: string) =>
    fitMath({ type: 'row', parts: [{ type: 'sign', sign: 'leading equals' }, readTex(tex)!] }, 40).html;
  // The class of a sign between two operands, which has a blank on either side.
  expect(line('-7.3')).not.toContain('mbin');
  expect(line('9.1-7.3')).toContain('mbin');
});
