import { type MathPiece, rowOf, sign } from '../../formula/math-piece.ts';
import { traitsOf } from '../../formula/symbol-traits.ts';
import { writeTex } from './write-tex.ts';

/** How far a formula is taken apart. */
export type Unfolding = 'fractions' | 'everything';

/**
 * The outermost fractions of a formula on one line, (a) / (b), delimiters that do not grow, and arguments of functions that may
 * stand on lines of their own: for lines that are wider than the page. What stands on one line can be broken; a fraction
 * cannot. With 'everything', roots, exponents of many signs and cases go the same way: (a)^{1/2}, a ^ (b + c), and
 * 'a if b; c otherwise'.
 */
export function unfoldMath(piece: MathPiece, unfolding: Unfolding): MathPiece {
  const unfold = (part: MathPiece) => unfoldMath(part, unfolding);
  switch (piece.type) {
    case 'row':
      return rowOf(piece.parts.map(unfold));
    case 'fraction':
      return rowOf([enclose(unfold(piece.above)), sign('over'), enclose(unfold(piece.below))]);
    case 'enclosed':
      return { ...piece, inner: unfold(piece.inner), grows: 'never' };
    case 'call':
      return { ...piece, arguments: piece.arguments.map(unfold), grows: 'never' };
    case 'power':
      return unfoldPower(piece, unfolding);
    default:
      return unfolding === 'everything' ? unfoldOther(piece) : piece;
  }
}

/** An exponent that takes fewer signs to write stays raised. */
const LONG_EXPONENT = 40;

function unfoldPower(piece: Extract<MathPiece, { type: 'power' }>, unfolding: Unfolding): MathPiece {
  const base = unfoldMath(piece.base, unfolding);
  const { exponent } = piece;
  if (unfolding === 'fractions' || writeTex(exponent).length < LONG_EXPONENT) return { ...piece, base };
  return rowOf([base, sign('raised'), inPlainParentheses(unfoldMath(exponent, unfolding))]);
}

function unfoldOther(piece: MathPiece): MathPiece {
  switch (piece.type) {
    case 'sign':
      return piece.sign === 'beside' ? rowOf([piece, sign('break')]) : piece;
    case 'root':
      return {
        type: 'power',
        base: inPlainParentheses(unfoldMath(piece.radicand, 'everything')),
        exponent: HALF,
      };
    case 'cases':
      return rowOf(
        piece.lines.flatMap((cells, i) => [
          ...(i === 0 ? [] : [sign('semicolon')]),
          ...cells.flatMap((cell, k) => [
            ...(k === 0 ? [] : [sign('blank'), sign('break')]),
            unfoldMath(cell, 'everything'),
          ]),
        ]),
      );
    default:
      return piece;
  }
}

const HALF = rowOf([
  { type: 'number', number: { mantissa: '1' } },
  sign('stroke'),
  { type: 'number', number: { mantissa: '2' } },
]);

/** Parentheses, except around a single symbol or number. */
function enclose(part: MathPiece): MathPiece {
  return isSingle(part) ? part : inPlainParentheses(part);
}

function isSingle(part: MathPiece): boolean {
  if (part.type === 'number')
    return part.number.exponent === undefined && !part.number.mantissa.startsWith('-');
  if (part.type !== 'symbol') return false;
  const { isSum, isQuotient } = traitsOf(part.tex);
  return !isSum && !isQuotient;
}

function inPlainParentheses(inner: MathPiece): MathPiece {
  return { type: 'enclosed', opening: '(', closing: ')', inner, grows: 'never' };
}
