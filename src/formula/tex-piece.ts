/** How tightly a piece of LaTeX holds together; what holds less tightly than its place needs gets parentheses. */
export const LEVEL = {
  /** a + b */
  sum: 0,
  /** -a: may begin an expression, and needs parentheses behind an operator */
  negative: 1,
  /** sum sign with its body, open to the right */
  open: 2,
  /** a b, and a number with a unit or a power of ten */
  product: 3,
  /** function, fraction, power */
  call: 4,
  /** one sign, or what stands between delimiters */
  atom: 5,
} as const;

export type Level = (typeof LEVEL)[keyof typeof LEVEL];

/** A piece of LaTeX that knows how it may be joined to others. */
export interface Piece {
  readonly tex: string;
  readonly level: Level;
  /** It ends with a unit, so that a symbol set behind it would read as part of the unit. */
  readonly endsWithUnit?: boolean;
}

export function atom(tex: string): Piece {
  return { tex, level: LEVEL.atom };
}

/** Whether LaTeX is higher than a line, so that delimiters must grow. */
export function isTall(tex: string): boolean {
  return /\\[dt]?frac|\\sum|\\prod|\\min_|\\max_|\\begin|\\left|\\sqrt/.test(tex);
}

/** LaTeX between delimiters that grow where they must. */
export function delimit(tex: string, opening = '(', closing = ')'): string {
  return isTall(tex) ? `\\left${opening} ${tex} \\right${closing}` : `${opening}${tex}${closing}`;
}

export function inParentheses(piece: Piece): Piece {
  return atom(delimit(piece.tex));
}

/** A piece that holds at least so tightly: in parentheses where it does not by itself. */
export function atLeast(piece: Piece, level: Level): Piece {
  return piece.level < level ? inParentheses(piece) : piece;
}

/** The operand behind an operator, where a minus or a sum needs parentheses. */
export function behindOperator(piece: Piece): Piece {
  return atLeast(piece, LEVEL.open);
}

/** Terms joined by plus signs; of more than twenty the first two and the last, with dots between. */
export function joinTerms(terms: readonly Piece[]): Piece {
  const first = terms[0];
  if (!first) return atom('0');
  if (terms.length === 1) return first;
  const written = terms.map((term, i) => (i === 0 ? term : behindOperator(term)).tex);
  return { tex: abridge(written).join(' + '), level: LEVEL.sum };
}

/** Factors joined by multiplication signs; of more than twenty the first two and the last, with dots between. */
export function joinFactors(factors: readonly Piece[]): Piece {
  const first = factors[0];
  if (!first) return atom('1');
  if (factors.length === 1) return first;
  const written = factors.map((factor) => atLeast(factor, LEVEL.product).tex);
  return { tex: abridge(written).join(' \\cdot '), level: LEVEL.product };
}

const MOST_ITEMS = 20;

export function abridge(items: readonly string[]): readonly string[] {
  if (items.length <= MOST_ITEMS) return items;
  return [...items.slice(0, 2), '\\dots', items.at(-1)!];
}

/** Words within a formula; every sign that LaTeX would read is escaped. */
export function texWords(words: string): string {
  const escaped = words.replace(/[\\{}$&#^_%~]/g, (sign) => ESCAPES[sign] ?? `\\${sign}`);
  return `\\text{${escaped}}`;
}

const ESCAPES: Readonly<Record<string, string>> = {
  '\\': '\\textbackslash{}',
  '^': '\\textasciicircum{}',
  '~': '\\textasciitilde{}',
};
