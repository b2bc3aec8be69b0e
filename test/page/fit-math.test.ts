import { expect, test } from 'vitest';
import { fitMath } from '../../src/page/fit-math.ts';
import { unfoldTex } from '../../src/page/unfold-tex.ts';

test.each([
  ['\\frac{a+b}{c}', '(a+b)\\,/\\,c'],
  ['\\frac{1}{2}', '1\\,/\\,2'],
  ['x \\left( \\frac{a b}{c_1} \\right)', 'x ( (a b)\\,/\\,(c_1) )'],
  ['\\sqrt{\\frac{a}{b}}', '\\sqrt{\\frac{a}{b}}'],
  ['\\frac{\\frac{a}{b}}{d}', '(a\\,/\\,b)\\,/\\,d'],
  ['\\leftarrow \\{ \\frac{a}{\\text{\\}}}', '\\leftarrow \\{ a\\,/\\,(\\text{\\}})'],
])('%s on one line is %s', (tex, line) => {
  expect(unfoldTex(tex).replace(/\s+/g, ' ')).toBe(line.replace(/\s+/g, ' '));
});

const many = (count: number) => Array.from({ length: count }, (_, i) => `${i}.35\\,\\mathrm{m}`).join(' + ');

test('what has room stays as it is, what lacks a little is made smaller, what lacks much is written on one line', () => {
  expect(fitMath(`\\frac{${many(5)}}{2}`, 36)).toMatchObject({ size: '' });
  expect(fitMath(`\\frac{${many(10)}}{2}`, 36).size).toMatch(/^size-(?:90|80)$/);
  const unfolded = fitMath(`\\frac{${many(30)}}{2}`, 36);
  expect(unfolded.size).toBe('');
  expect(unfolded.html).not.toContain('mfrac');
});
