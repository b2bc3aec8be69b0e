import { countedUnit, type PrintedNumber, printNumber } from '../quantity/display.ts';
import type { Unit } from '../quantity/unit.ts';
import type { Comparison, FunctionName } from './formula.ts';

/** What stands between the parts of a row. */
export type Sign =
  | Comparison
  /** Minus before a value, and between two. */
  | 'negative'
  | '+'
  | '-'
  /** The dot of a product, and the narrow blank that stands for it between symbols. */
  | 'dot'
  | 'beside'
  /** The stroke of a quotient: close, as in an exponent, and with blanks, on one line in place of a fraction. */
  | 'stroke'
  | 'over'
  | 'comma'
  | 'semicolon'
  | 'dots'
  /** A blank between words, a wide one between formulas, and a place where a line may end. */
  | 'blank'
  | 'wide'
  | 'break'
  /** The sign for 'raised to', where an exponent is too long to be raised. */
  | 'raised'
  /** The equals sign at the beginning of a line. */
  | 'leading equals';

/**
 * A formula as it is to be set: what stands beside, above and within what, with numbers, units, declared symbols and words
 * apart. What is written, read aloud and measured comes from it.
 */
export type MathPiece =
  | { readonly type: 'number'; readonly number: PrintedNumber }
  | { readonly type: 'quantity'; readonly number: PrintedNumber; readonly unit: Unit }
  /** LaTeX as it was declared, which nothing here takes apart. */
  | { readonly type: 'symbol'; readonly tex: string }
  | { readonly type: 'words'; readonly words: string }
  | { readonly type: 'sign'; readonly sign: Sign }
  | { readonly type: 'row'; readonly parts: readonly MathPiece[] }
  | { readonly type: 'fraction'; readonly above: MathPiece; readonly below: MathPiece }
  | { readonly type: 'root'; readonly radicand: MathPiece }
  /** In a row of an author's LaTeX the base may be empty: what stands before it is raised. */
  | { readonly type: 'power'; readonly base: MathPiece; readonly exponent: MathPiece }
  | Enclosed
  | {
      readonly type: 'call';
      readonly function: FunctionName;
      readonly arguments: readonly MathPiece[];
      readonly grows: Growth;
    }
  /** A function that runs over lists, without its body: the sum sign with its index. */
  | { readonly type: 'run'; readonly function: FunctionName; readonly index: string }
  /** Lines of cells side by side: the value, and when it applies. Large where something in them is high, unless it is said. */
  | {
      readonly type: 'cases';
      readonly lines: readonly (readonly MathPiece[])[];
      readonly large?: boolean;
    };

/** Whether delimiters grow with what they enclose: where it is higher than a line, whatever it is, or never. */
export type Growth = 'as needed' | 'always' | 'never';

export interface Enclosed {
  readonly type: 'enclosed';
  /** LaTeX of the two delimiters. */
  readonly opening: string;
  readonly closing: string;
  readonly inner: MathPiece;
  readonly grows: Growth;
}

export function sign(of: Sign): MathPiece {
  return { type: 'sign', sign: of };
}

/** Parts side by side; a row within it is no part of its own. */
export function rowOf(parts: readonly MathPiece[]): MathPiece {
  const flat = parts.flatMap((part) => (part.type === 'row' ? part.parts : [part]));
  return flat.length === 1 ? flat[0]! : { type: 'row', parts: flat };
}

/** Pieces with the same sign between each two. */
export function joinBy(between: Sign, pieces: readonly MathPiece[]): MathPiece {
  return rowOf(pieces.flatMap((piece, i) => (i === 0 ? [piece] : [sign(between), piece])));
}

export function quantityPiece({
  number,
  unit,
}: {
  readonly number: PrintedNumber;
  readonly unit: Unit;
}): MathPiece {
  if (unit.tex === '') return { type: 'number', number };
  return { type: 'quantity', number, unit: countedUnit(unit, printNumber(number)) };
}

export function enclosed(inner: MathPiece, grows: Growth = 'as needed'): Enclosed {
  return { type: 'enclosed', opening: '(', closing: ')', inner, grows };
}

export function isSameMath(one: MathPiece, other: MathPiece): boolean {
  return JSON.stringify(one) === JSON.stringify(other);
}
