import { splitTex } from './tex-tokens.ts';

/** What of a symbol's LaTeX counts where it is joined to others. */
export interface SymbolTraits {
  /** It is a sum or relation by itself, such as 'a + b'. */
  readonly isSum: boolean;
  /** It is a quotient by itself, such as di/dt. */
  readonly isQuotient: boolean;
  /** It is higher than a line. */
  readonly isTall: boolean;
  /** It holds a raised sign: a second one on the same letter would be an error in LaTeX. */
  readonly isRaised: boolean;
  readonly beginsWithDigit: boolean;
  /** It is a word, as that of a choice. */
  readonly isWord: boolean;
}

const JOINING = new Set(['+', '-', '=', '<', '>']);
const FRACTIONS = new Set(['\\frac', '\\dfrac', '\\tfrac']);
const TALL = new Set([...FRACTIONS, '\\sum', '\\prod', '\\begin', '\\left', '\\sqrt']);
/** Raised signs, also where they are characters of their own, as in 'd²'. */
const RAISED = /[\^'\u2032\u00b2\u00b3\u00b9\u2070-\u209f\u1d2c-\u1d6a]/;

const known = new Map<string, SymbolTraits>();
const MOST_KNOWN = 5000;

export function traitsOf(tex: string): SymbolTraits {
  const before = known.get(tex);
  if (before) return before;
  if (known.size >= MOST_KNOWN) known.clear();
  const traits = findTraits(splitTex(tex));
  known.set(tex, traits);
  return traits;
}

function findTraits(tokens: readonly string[]): SymbolTraits {
  const first = tokens.find((token) => token !== '{') ?? '';
  return {
    isSum: outsideGroups(tokens).some((token) => JOINING.has(token)),
    isQuotient: tokens.some((token) => token === '/' || FRACTIONS.has(token)),
    isTall: tokens.some((token, i) => TALL.has(token) || hasLimit(token, tokens[i + 1])),
    isRaised: tokens.some(isRaisedSign),
    beginsWithDigit: /^[\d.]$/.test(first),
    isWord: first === '\\text',
  };
}

export function isRaisedSign(character: string): boolean {
  return RAISED.test(character);
}

function hasLimit(token: string, next: string | undefined): boolean {
  return (token === '\\min' || token === '\\max') && next === '_';
}

function outsideGroups(tokens: readonly string[]): string[] {
  let depth = 0;
  return tokens.filter((token) => {
    if (token === '{') depth += 1;
    if (token === '}') depth -= 1;
    return depth === 0;
  });
}
