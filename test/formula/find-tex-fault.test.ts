import { expect, test } from 'vitest';
import { CALCULATIONS } from '../../src/engine/calculations/registry.ts';
import { findTexFault } from '../../src/formula/find-tex-fault.ts';
import { readByKatex } from './read-by-katex.ts';

test.each([
  ['U_{1', 'not closed'],
  ['U_1}', 'no opening'],
  ['U_', 'subscript is empty'],
  ['{U^}', 'superscript is empty'],
  ['U_a_b', 'two subscripts'],
  ['U^{a}^{b}', 'two superscripts'],
  ['U\\', 'backslash'],
  ['50 %', "'%'"],
  ['$U$', "'$'"],
  ['\\left( U', 'do not pair'],
  ['\\begin{matrix} U', 'do not pair'],
  ['  ', 'empty'],
])('%s is refused, as KaTeX refuses it', (tex, because) => {
  expect(findTexFault(tex)).toContain(because);
  // An empty text and a dangling % are no faults for KaTeX, but no symbols either.
  if (!/^\s*$|%/.test(tex)) expect(() => readByKatex(tex)).toThrow();
});

test.each([
  'U',
  'U_1^2',
  'U_{a_{b}}^{c}',
  '\\{U\\}',
  '50\\,\\%',
  '\\frac{\\mathrm{d}i}{\\mathrm{d}t}',
  "U'",
  '\\left(U\\right)_1',
  '\\leftarrow U',
])('%s passes', (tex) => {
  expect(findTexFault(tex)).toBeUndefined();
  expect(() => readByKatex(tex)).not.toThrow();
});

test('no symbol of the catalogue is refused', () => {
  const symbols = [...CALCULATIONS.values()].flatMap(({ symbols: table }) =>
    [...table.values()].map(({ tex }) => tex),
  );
  expect(symbols.length).toBeGreaterThan(500);
  expect(symbols.filter((tex) => findTexFault(tex) !== undefined)).toEqual([]);
});
