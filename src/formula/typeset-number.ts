import type { Displayed } from '../quantity/display.ts';
import type { Unit } from '../quantity/unit.ts';
import { atom, LEVEL, type Piece } from './tex-piece.ts';

/** A number as the author wrote it: '2', '0.5', '1e-3' as a power of ten, 'pi'. */
export function texNumber(text: string): Piece {
  if (text === 'pi') return atom('\\pi');
  const [mantissa, exponent] = text.toLowerCase().split('e') as [string, string?];
  const written = mantissa.startsWith('.') ? `0${mantissa}` : mantissa;
  if (exponent === undefined) return atom(written);
  const power = `10^{${Number(exponent)}}`;
  if (Number(mantissa) === 1) return { tex: power, level: LEVEL.call };
  return { tex: `${written} \\times ${power}`, level: LEVEL.product };
}

/** A number with its unit as the author wrote it: '0.3 m'. */
export function texQuantity(text: string, unit: Unit): Piece {
  const number = /^[\d.]+(?:[eE][+-]?\d+)?/.exec(text)![0];
  const { tex } = texNumber(number);
  // The degree sign alone stands close to its number.
  const joined = unit.tex === '^\\circ' ? `${tex}${unit.tex}` : `${tex}\\,${unit.tex}`;
  return { tex: joined, level: LEVEL.product, endsWithUnit: true };
}

/** A value as it is printed. */
export function texDisplayed({ tex, unit }: Displayed): Piece {
  const endsWithUnit = unit.tex !== '';
  if (tex.startsWith('-')) return { tex, level: LEVEL.negative, endsWithUnit };
  const single = !endsWithUnit && !tex.includes('\\times');
  return { tex, level: single ? LEVEL.atom : LEVEL.product, endsWithUnit };
}
