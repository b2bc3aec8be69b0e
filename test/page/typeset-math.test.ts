import { afterEach, expect, test, vi } from 'vitest';
import { wordMessage } from '../../src/diagnostics/messages.ts';
import { composeMath, typesetMath } from '../../src/page/math/typeset-math.ts';
import { UNIT_TABLE } from '../../src/quantity/unit-table.ts';

const warnings = vi.spyOn(console, 'warn');
afterEach(() => expect(warnings.mock.calls).toEqual([]));

function reason(tex: string): string {
  const set = typesetMath(tex);
  if (set.ok) throw new Error(`accepted: ${tex}`);
  return wordMessage(set.problem.code, set.problem.data as never).message;
}

test('every unit of the table can be set without a warning, the micro sign in our own face', () => {
  for (const { tex } of UNIT_TABLE.values()) {
    if (tex === '') continue;
    const set = typesetMath(`3.3${tex.startsWith('^') ? tex : `\\,${tex}`}`);
    expect(set.ok, tex).toBe(true);
  }
  const micro = typesetMath('1\\,\\text{µ}\\mathrm{H}/\\mathrm{m}');
  expect(micro.ok && micro.value).toContain('<span class="mord micro">µ</span>');
});

test.each([
  ['a bare sign that LaTeX does not know', '5 €', /€/],
  ['the micro sign outside text', '5 µ', /µ/],
  ['an unknown command', '\\frobnicate', /frobnicate/],
  ['an open brace', '\\frac{1', /cannot be set/],
  ['a link', '\\href{https://x.invalid}{x}', /links, loads a file/],
  ['a file', '\\includegraphics{x.png}', /links, loads a file/],
  ['HTML', '\\htmlClass{a}{x}', /HTML/],
  ['a bomb of macros', '\\def\\a{\\b\\b}\\def\\b{\\c\\c}\\def\\c{\\a\\a}\\a', /defines a command/],
  [
    'one whose macros are expanded as they are defined',
    '\\edef\\a{xx}\\edef\\b{\\a\\a}',
    /defines a command/,
  ],
  ['a macro of LaTeX', '\\newcommand{\\Ures}{U} \\Ures', /defines a command/],
  ['white on white', 'U \\le \\textcolor{white}{1.4 \\cdot} 95', /in another ink/],
  ['a colour from here on', '\\color{#fefefe} x + 1', /in another ink/],
  ['a box of a colour', 'x + \\fcolorbox{black}{black}{$y$}', /in another ink/],
  ['what takes room and is not printed', 'a + \\hphantom{b} = c', /hides what stands in it/],
  ['one sign over another', '\\mathrlap{/}{=}', /one thing over another/],
  ['a display within a formula', '\\begin{align} a &= b \\end{align}', /write \\begin\{aligned\}/],
  ['a numbered formula', 'a = b \\tag{3}', /have no numbers/],
  ['the stand-in', '\\text{ǂ}', /ǂ/],
])('%s is refused with its reason', (_, tex, expected) => {
  expect(reason(tex)).toMatch(expected);
  expect(reason(tex)).not.toMatch(/strict mode|KaTeX parse error|\[unicode/);
});

test('a sum of hundreds of terms with units is set, whatever its length', () => {
  for (const count of [180, 700]) {
    const terms = Array.from({ length: count }, (_, i) => `${i}.5\\,\\mathrm{kA}\\,/\\,\\text{µ}\\mathrm{s}`);
    expect(typesetMath(terms.join(' + ')).ok).toBe(true);
  }
});

test('fractions and roots within each other take no more time with every level than the last', () => {
  const nested = (depth: number, open: string) => `${open.repeat(depth)}x${'}'.repeat(depth)}`;
  for (const open of ['\\frac{1}{1+', '\\sqrt{2+', 'y^{1+', '\\hat{']) {
    // With twice the time for every level it would never end.
    const set = composeMath(nested(70, open));
    expect(set.ok && set.value.speech.length).toBeLessThan(5000);
  }
  expect(composeMath(nested(20_000, '\\frac{1}{')).ok).toBe(false);
});

test('the fault is pointed at', () => {
  const set = typesetMath('a + \\frobnicate b');
  expect(set.ok ? undefined : set.problem.span).toEqual({ start: 4, end: 15 });
});

test.each([
  ["U_{\\mathrm{T}} = U_{\\mathrm{res}} + L' \\cdot \\ell", 'U sub T equals U sub res plus L prime times ℓ'],
  ['126\\,\\mathrm{kV} > 82.6\\,\\mathrm{kV}', '126 kV is greater than 82.6 kV'],
  ['1\\,\\text{µ}\\mathrm{H}/\\mathrm{m}', '1 µH/m'],
  ['\\frac{U_w}{K}', 'U sub w over K'],
  ['\\frac{a+b}{2}', 'the fraction a plus b over 2, end of fraction,'],
  ['\\sqrt{x^2}', 'the square root of x squared, end of root,'],
  ['\\hat{I}^2', 'I hat squared'],
  ['10^{-6}', '10 to the power minus 6'],
  ['\\sum_{i=1}^{n} x_i', 'the sum from i equals 1 to n of x sub i'],
  ['20^\\circ\\mathrm{C}', '20 degrees C'],
  ['\\begin{cases} a & b > 1 \\\\ c & \\text{else} \\end{cases}', '{ a, b is greater than 1; c, else'],
])('%s is read aloud as %s', (tex, speech) => {
  const set = composeMath(tex);
  expect(set.ok && set.value.speech).toBe(speech);
  expect(set.ok && set.value.html).toContain('role="img" aria-label="');
  expect(set.ok && set.value.html).not.toMatch(/aria-hidden|<math|<annotation/);
});

test('the estimate of widths: wider formulas count as wider, a fraction does not break', () => {
  const width = (tex: string) => {
    const set = composeMath(tex);
    if (!set.ok) throw new Error(tex);
    return set.value.width;
  };
  const sum = Array.from({ length: 10 }, () => '1.35\\,\\mathrm{m}').join(' + ');
  expect(width(sum).longestPiece).toBeLessThan(6);
  expect(width(sum).whole).toBeGreaterThan(35);
  expect(width(`\\frac{${sum}}{2}`).longestPiece).toBeGreaterThan(35);
});
