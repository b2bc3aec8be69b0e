import type { Random } from './random.ts';

/** A text as a scalar of YAML behind a key, in one of the styles in which it stays the same text; `indent` is that of the key. */
export function writeYamlText(random: Random, text: string, indent: string): string {
  const style = random.below(6);
  if (style < 2 && isPlain(text)) return `${text}${random.pick(['', '', ' # as surveyed', '  '])}`;
  if (style === 2) return `'${text.replaceAll("'", "''")}'`;
  if (style === 3 && isPlain(text))
    return `${random.pick(['|', '|-', '>', '>-'])}\n${indent}  ${text.trim()}`;
  return `"${[...text].map((character) => spell(random, character)).join('')}"`;
}

/** Texts that mean something else without quotes. */
function isPlain(text: string): boolean {
  return /^[\w+.,][^#\n]*$/.test(text) && !/[:{}[\]&*!|>%@`"'?]|--|^\.\.\.|\s$/.test(text);
}

function spell(random: Random, character: string): string {
  if (character === '"' || character === '\\') return `\\${character}`;
  const code = character.codePointAt(0)!;
  if (code > 0xffff || !random.chance(0.15)) return character;
  return code < 0x100 && random.chance(0.5)
    ? `\\x${code.toString(16).padStart(2, '0')}`
    : `\\u${code.toString(16).padStart(4, '0')}`;
}
