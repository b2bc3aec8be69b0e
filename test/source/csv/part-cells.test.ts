import fc from 'fast-check';
import { expect, test } from 'vitest';
import { SEPARATORS } from '../../../src/source/csv/csv-table.ts';
import { partPlainCells } from '../../../src/source/csv/part-cells.ts';
import { partLibraryCells } from '../../../src/source/csv/part-library-cells.ts';
import { trials } from '../../support/at-length.ts';

const sign = fc.constantFrom(
  ...[
    'a',
    '1.5',
    'Ω',
    '😀',
    ' ',
    '  ',
    '\u00a0',
    '\u2028',
    '\uFEFF',
    '\f',
    '\v',
    '\0',
    '#',
    "'",
    '\\',
    '"',
    '\uD800',
  ],
  ...[';', ';', ';', ',', ',', '\t', '\n', '\n', '\r\n', '\r', '\n\n'],
);

test('a text without quotes is parted as the library parts it', () => {
  let plain = 0;
  const texts = fc.array(sign, { maxLength: 20 }).map((signs) => signs.join(''));
  fc.assert(
    fc.property(
      texts,
      fc.constantFrom(...SEPARATORS),
      fc.constantFrom(1, 2, 100),
      (text, separator, most) => {
        const parted = partPlainCells(text, separator, most);
        if (!parted) return;
        plain += 1;
        expect(parted).toStrictEqual(partLibraryCells(text, separator, most));
      },
    ),
    { numRuns: trials(2000, 30_000) },
  );
  expect(plain).toBeGreaterThan(100);
});
