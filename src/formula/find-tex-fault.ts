import { splitTex } from './tex-tokens.ts';

/**
 * What is wrong with the structure of a symbol's LaTeX, in words; undefined where nothing is. Whether its commands exist
 * only a typesetter knows.
 */
export function findTexFault(tex: string): string | undefined {
  if (tex.trim() === '') return 'it is empty';
  const tokens = splitTex(tex);
  return findInTokens(tokens.filter((token) => token.trim() !== '')) ?? findInPairs(tokens);
}

/** Characters that LaTeX takes for something else than themselves. */
const SPECIAL = new Set(['$', '%', '#', '&']);

/** The scripts that the atom before the present place has already. */
type Scripts = { _: boolean; '^': boolean };

function findInTokens(tokens: readonly string[]): string | undefined {
  const open: Scripts[] = [];
  let scripts: Scripts = { _: false, '^': false };
  for (const [i, token] of tokens.entries()) {
    if (token === '\\') return 'it ends in a backslash';
    if (SPECIAL.has(token)) return `'${token}' needs a backslash`;
    if (token === '{') {
      open.push(tokens[i - 1] === '_' || tokens[i - 1] === '^' ? scripts : { _: false, '^': false });
      scripts = { _: false, '^': false };
    } else if (token === '}') {
      const outer = open.pop();
      if (!outer) return 'a closing brace has no opening one';
      scripts = outer;
    } else if (token === '_' || token === '^') {
      const name = token === '_' ? 'subscript' : 'superscript';
      if (scripts[token]) return `one letter has two ${name}s`;
      const next = tokens[i + 1];
      if (next === undefined || next === '}' || next === '_' || next === '^') return `a ${name} is empty`;
      scripts = { ...scripts, [token]: true };
    } else if (tokens[i - 1] !== '_' && tokens[i - 1] !== '^') scripts = { _: false, '^': false };
  }
  return open.length > 0 ? 'a brace is not closed' : undefined;
}

function findInPairs(tokens: readonly string[]): string | undefined {
  const count = (command: string) => tokens.filter((token) => token === command).length;
  if (count('\\left') !== count('\\right')) return '\\left and \\right do not pair';
  return count('\\begin') === count('\\end') ? undefined : '\\begin and \\end do not pair';
}
