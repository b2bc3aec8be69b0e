import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cssString } from '../../src/page/css-string.ts';

/** Reads a CSS string as CSS Syntax Module Level 3, 4.3.5 and 4.3.7 do. */
function readCssString(css: string): string {
  expect(css).toMatch(/^"[^"\n]*"$/);
  return css
    .slice(1, -1)
    .replace(/\\([0-9a-f]{1,6}) ?/g, (_, code) => String.fromCodePoint(Number.parseInt(code, 16)));
}

/** Signs that mean something to CSS or HTML, between characters of every kind. */
const ANY_TEXT = fc
  .array(
    fc.oneof(
      fc.constantFrom('"', "'", '\\', '\n', '\r', '</style>', ';', '}', '{', '\\"', 'a', '0 '),
      fc.string({ unit: 'binary', maxLength: 5 }),
    ),
  )
  .map((parts) => parts.join(''));

test('a text comes back out of its CSS string, and nothing in it can end the string or the style element', () => {
  fc.assert(
    fc.property(ANY_TEXT, (text) => {
      const css = cssString(text);
      expect(css.slice(1, -1)).not.toMatch(/["'<>\n\r;{}]/);
      expect(readCssString(css)).toBe(text.replace(/\s+/g, ' ').trim());
    }),
  );
});
