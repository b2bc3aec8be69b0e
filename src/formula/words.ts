import type { FunctionName } from './formula.ts';

/** How many arguments a function takes; `list` functions run over lists when they have one argument. */
interface FunctionFacts {
  readonly arguments: 'one' | 'one or more';
  readonly overLists?: boolean;
}

/** Every function of the language. */
export const FUNCTIONS: Readonly<Record<FunctionName, FunctionFacts>> = {
  sqrt: { arguments: 'one' },
  exp: { arguments: 'one' },
  ln: { arguments: 'one' },
  log10: { arguments: 'one' },
  abs: { arguments: 'one' },
  min: { arguments: 'one or more', overLists: true },
  max: { arguments: 'one or more', overLists: true },
  sum: { arguments: 'one', overLists: true },
  product: { arguments: 'one', overLists: true },
  count: { arguments: 'one' },
  sin: { arguments: 'one' },
  cos: { arguments: 'one' },
  tan: { arguments: 'one' },
  asin: { arguments: 'one' },
  acos: { arguments: 'one' },
  atan: { arguments: 'one' },
  sinh: { arguments: 'one' },
  cosh: { arguments: 'one' },
  tanh: { arguments: 'one' },
  asinh: { arguments: 'one' },
  acosh: { arguments: 'one' },
  floor: { arguments: 'one' },
  ceil: { arguments: 'one' },
};

export const FUNCTION_NAMES = Object.keys(FUNCTIONS) as FunctionName[];

export function isFunctionName(word: string): word is FunctionName {
  return Object.hasOwn(FUNCTIONS, word);
}

/** Words that join the parts of a formula and can name nothing else. */
export const KEYWORDS: ReadonlySet<string> = new Set([
  'when',
  'and',
  'or',
  'not',
  'is',
  'otherwise',
  'given',
]);

/** Stands between what a function takes and the table over whose rows it runs; elsewhere it is a word like any other. */
export const OVER = 'over';

/** Constants by name. */
export const CONSTANTS: ReadonlyMap<string, number> = new Map([['pi', Math.PI]]);

/** What a word is to the language, which reads it so and never as the name of a value; undefined where it can be one. */
export function reservedAs(word: string): 'a constant' | 'a word' | undefined {
  if (CONSTANTS.has(word)) return 'a constant';
  return KEYWORDS.has(word) ? 'a word' : undefined;
}
