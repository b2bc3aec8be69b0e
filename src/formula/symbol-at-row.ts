import { splitTex } from './tex-tokens.ts';

/** A symbol's LaTeX with the number of a row, counted from one, in place of its running index: `\ell_i` as `\ell_1`. */
export function symbolAtRow(tex: string, index: string, row: number): string {
  const tokens = splitTex(tex);
  return tokens.map((token, i) => (token === index && isIndex(tokens, i) ? String(row + 1) : token)).join('');
}

const LETTER = /^[A-Za-z]$/;

/** A letter that belongs to no word: by itself, or in a subscript beside others. */
function isIndex(tokens: readonly string[], at: number): boolean {
  const [before = '', after = ''] = [tokens[at - 1], tokens[at + 1]];
  if (before === '{') return tokens[at - 2] === '_' && (after === '}' || after === ',');
  return !LETTER.test(before) && !LETTER.test(after);
}
