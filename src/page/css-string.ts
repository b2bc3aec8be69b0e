/**
 * A text as a CSS string, for the `content` of a margin box. Everything but letters, digits and blanks is written as a
 * hexadecimal escape: neither the end of the string nor of the style element can be written in it.
 */
export function cssString(text: string): string {
  const escaped = [...text.replace(/\s+/g, ' ').trim()].map((character) =>
    /[\p{L}\p{N} ]/u.test(character) ? character : `\\${character.codePointAt(0)!.toString(16)} `,
  );
  return `"${escaped.join('')}"`;
}
