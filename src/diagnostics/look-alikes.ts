/** Letters of other scripts that print like one of ours, by Unicode; a keyboard of another language writes them. */
const LETTERS: Readonly<Record<string, string>> = {
  ...pairs('АВЕКМНОРСТУХІЈЅ', 'ABEKMHOPCTYXIJS'), // Cyrillic capitals
  ...pairs('акмеорсухіјѕһԁԛԝ', 'akmeopcyxijshdqw'), // Cyrillic small letters
  ...pairs('ΑΒΕΖΗΙΚΜΝΟΡΤΥΧ', 'ABEZHIKMNOPTYX'), // Greek capitals
  ...pairs('ανικορυ', 'avikopu'), // Greek small letters
  ...pairs('‐‑‒–—―', '------'),
  '℃': '°C',
};

/** Superscripts and fractions fold to digits, and are no look-alikes of them; blanks fold to the blank. */
const READ_AS_THEY_ARE = /[\s⁰¹²³⁴-⁹⁺⁻¼-¾⅐-⅞…]/;
const INVISIBLE = /[\u00ad\u200b-\u200d\u2060\ufeff]/;

/**
 * Names the characters of a text that look like ones of our alphabet and are others, or cannot be seen; '' where there are
 * none. A message that quotes such a text would else seem to refuse what it asks for.
 */
export function nameLookAlikes(text: string): string {
  const found = [...new Set(text)].flatMap((character) => describe(character) ?? []);
  return found.slice(0, 3).join(', ');
}

function describe(character: string): string | undefined {
  if (character <= '\u007e') return undefined;
  const code = `U+${character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}`;
  if (INVISIBLE.test(character)) return `a character that cannot be seen (${code}) stands in it`;
  const like = likeOf(character);
  if (like !== undefined) return `'${character}' (${code}) in it only looks like '${like}'`;
  return /\p{Nd}/u.test(character)
    ? `'${character}' (${code}) in it is none of the digits 0 to 9`
    : undefined;
}

function likeOf(character: string): string | undefined {
  if (Object.hasOwn(LETTERS, character)) return LETTERS[character];
  if (READ_AS_THEY_ARE.test(character)) return undefined;
  const folded = character.normalize('NFKC');
  return folded !== character && /^[\u0021-\u007e]+$/.test(folded) ? folded : undefined;
}

function pairs(those: string, ours: string): Record<string, string> {
  const letters = [...ours];
  return Object.fromEntries([...those].map((letter, i) => [letter, letters[i]!]));
}
