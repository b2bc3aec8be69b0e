import type { Displayed, PrintedNumber } from '../quantity/display.ts';
import type { Unit } from '../quantity/unit.ts';
import { atom, type Joinable, LEVEL } from './joinable.ts';
import { quantityPiece } from './math-piece.ts';

/** A number as the author wrote it: '2', '0.5', '1e-3' as a power of ten, 'pi'. */
export function writtenNumber(text: string): Joinable {
  if (text === 'pi') return atom({ type: 'symbol', tex: '\\pi' });
  const number = splitNumber(text);
  const level =
    number.exponent === undefined ? LEVEL.atom : number.mantissa === '' ? LEVEL.call : LEVEL.product;
  return { math: { type: 'number', number }, level };
}

/** A number with its unit as the author wrote it: '0.3 m'. */
export function writtenQuantity(text: string, unit: Unit): Joinable {
  const number = splitNumber(/^[\d.]+(?:[eE][+-]?\d+)?/.exec(text)![0]);
  return { math: { type: 'quantity', number, unit }, level: LEVEL.product, endsWithUnit: true };
}

function splitNumber(text: string): PrintedNumber {
  const [digits, exponent] = text.toLowerCase().split('e') as [string, string?];
  const mantissa = digits.startsWith('.') ? `0${digits}` : digits;
  if (exponent === undefined) return { mantissa };
  return { mantissa: Number(digits) === 1 ? '' : mantissa, exponent: Number(exponent) };
}

/** A value as it is printed. */
export function displayedPiece(displayed: Displayed): Joinable {
  const { number, unit } = displayed;
  const endsWithUnit = unit.tex !== '';
  const math = quantityPiece(displayed);
  if (number.mantissa.startsWith('-')) return { math, level: LEVEL.negative, endsWithUnit };
  const single = !endsWithUnit && number.exponent === undefined;
  return { math, level: single ? LEVEL.atom : LEVEL.product, endsWithUnit };
}
