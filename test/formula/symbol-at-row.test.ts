import { expect, test } from 'vitest';
import { symbolAtRow } from '../../src/formula/symbol-at-row.ts';

test.each([
  ['\\ell_i', '\\ell_3'],
  ['L_{i}', 'L_{3}'],
  ['R_{i,k}', 'R_{3,k}'],
  ['P_{\\mathrm{i},i}', 'P_{\\mathrm{i},3}'],
  ['\\sin i', '\\sin 3'],
  ['U_{\\mathrm{imp}}', 'U_{\\mathrm{imp}}'],
  ['\\text{i in all}', '\\text{i in all}'],
  ['i', '3'],
])('the third of %s is %s', (tex, third) => {
  expect(symbolAtRow(tex, 'i', 2)).toBe(third);
});
