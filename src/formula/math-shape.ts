import type { MathPiece } from './math-piece.ts';
import { isRaisedSign, traitsOf } from './symbol-traits.ts';

/** Whether a piece is higher than a line, so that delimiters around it must grow. */
export function isTall(piece: MathPiece): boolean {
  switch (piece.type) {
    case 'symbol':
      return traitsOf(piece.tex).isTall;
    case 'row':
      return piece.parts.some(isTall);
    case 'power':
      return isTall(piece.base) || isTall(piece.exponent);
    case 'enclosed':
      return piece.grows === 'always' || isTall(piece.inner);
    case 'call':
      return piece.arguments.some(isTall);
    case 'fraction':
    case 'root':
    case 'run':
    case 'cases':
      return true;
    default:
      return false;
  }
}

/** Whether a piece begins with a digit, which beside another factor could be read as a part of it. */
export function beginsWithDigit(piece: MathPiece): boolean {
  switch (piece.type) {
    case 'number':
    case 'quantity':
      return !piece.number.mantissa.startsWith('-');
    case 'symbol':
      return traitsOf(piece.tex).beginsWithDigit;
    case 'row':
      return piece.parts[0] !== undefined && beginsWithDigit(piece.parts[0]);
    case 'power':
      return beginsWithDigit(piece.base);
    default:
      return false;
  }
}

/** Whether a piece ends in a raised sign of its own, so that it must be one group before it can be raised. */
export function isRaised(piece: MathPiece): boolean {
  if (piece.type === 'symbol') return traitsOf(piece.tex).isRaised;
  if (piece.type === 'words') return isRaisedSign(piece.words);
  return piece.type === 'cases';
}
