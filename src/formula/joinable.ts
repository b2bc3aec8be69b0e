import { enclosed, joinBy, type MathPiece, rowOf, sign } from './math-piece.ts';

/** How tightly a piece of a formula holds together; what holds less tightly than its place needs gets parentheses. */
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

/** A piece of a formula that knows how it may be joined to others. */
export interface Joinable {
  readonly math: MathPiece;
  readonly level: Level;
  /** It ends with a unit, so that a symbol set behind it would read as part of the unit. */
  readonly endsWithUnit?: boolean;
}

export function atom(math: MathPiece): Joinable {
  return { math, level: LEVEL.atom };
}

export function inParentheses({ math }: Joinable): Joinable {
  return atom(enclosed(math));
}

/** A piece that holds at least so tightly: in parentheses where it does not by itself. */
export function atLeast(piece: Joinable, level: Level): Joinable {
  return piece.level < level ? inParentheses(piece) : piece;
}

/** The operand behind an operator, where a minus or a sum needs parentheses. */
export function behindOperator(piece: Joinable): Joinable {
  return atLeast(piece, LEVEL.open);
}

/** Terms joined by plus signs; of more than twenty the first two and the last, with dots between. */
export function joinTerms(terms: readonly Joinable[]): Joinable {
  const first = terms[0];
  if (!first) return atom(numberOf(0));
  if (terms.length === 1) return first;
  const written = terms.map((term, i) => (i === 0 ? term : behindOperator(term)).math);
  return { math: joinBy('+', abridge(written)), level: LEVEL.sum };
}

/** Factors joined by multiplication signs; of more than twenty the first two and the last, with dots between. */
export function joinFactors(factors: readonly Joinable[]): Joinable {
  const first = factors[0];
  if (!first) return atom(numberOf(1));
  if (factors.length === 1) return first;
  const written = factors.map((factor) => atLeast(factor, LEVEL.product).math);
  return { math: joinBy('dot', abridge(written)), level: LEVEL.product };
}

/** A whole number as a piece. */
export function numberOf(value: number): MathPiece {
  return { type: 'number', number: { mantissa: String(value) } };
}

/** A piece behind its symbol or words, without a sign between. */
export function prefix(before: MathPiece, { math }: Joinable): MathPiece {
  return rowOf([before, math]);
}

const MOST_ITEMS = 20;

export function abridge(items: readonly MathPiece[]): readonly MathPiece[] {
  if (items.length <= MOST_ITEMS) return items;
  return [...items.slice(0, 2), sign('dots'), items.at(-1)!];
}
