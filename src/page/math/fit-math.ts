import type { MathPiece } from '../../formula/math-piece.ts';
import { keepPowers, readTex } from './read-tex.ts';
import { setDisplay, setTex, trySetDisplay, trySetTex } from './set-math.ts';
import { displayTex, type TypesetMath } from './typeset-math.ts';
import { type Unfolding, unfoldMath } from './unfold-math.ts';
import { writeTex } from './write-tex.ts';

/** A formula that stays within the column. */
export interface FittedMath {
  readonly html: string;
  /** The class that makes it small enough; empty where it need not be. */
  readonly size: string;
  /** Width on one line, in em of the text around it. */
  readonly em: number;
  /** Even in parts, and a little smaller, it is wider than the column. */
  readonly isTooWide: boolean;
}

/**
 * Widths of the column in em of a formula; the style sheet sets its type size, and indents a step by its symbol: of a step below its
 * words and beside them, of running text, beside a figure, and of the formulas of a table of steps.
 */
export const STEP_EM = 38;
export const NARROW_EM = 26;
export const TEXT_EM = 42;
export const HALF_EM = 16;
export const ROW_FORMULA_EM = 19;

/** In per cent. Smaller type than this is not legible in its indices: what it does not fit is written out. */
const SIZES = [100, 90] as const;

/**
 * Sets a formula in display style. Where a piece that cannot be broken is too wide for the column it is made a little
 * smaller; where that does not do, its fractions are written on one line, which can be broken, and then all else that
 * cannot be broken. What is still too wide says so.
 */
export function fitMath(piece: MathPiece, columnEm: number): FittedMath {
  return fitted(setDisplay(piece), (unfolding) => trySetDisplay(unfoldMath(piece, unfolding)), columnEm);
}

/** The same of a formula in the author's prose, which may be such that it reads only as it was written. */
export function fitTex(tex: string, columnEm: number): FittedMath {
  const whole = keepPowers(tex);
  const piece = readTex(whole);
  const unfolded = (unfolding: Unfolding) =>
    piece && trySetTex(displayTex(writeTex(unfoldMath(piece, unfolding))));
  return fitted(setTex(displayTex(whole)), unfolded, columnEm);
}

function fitted(
  asWritten: TypesetMath,
  unfolded: (unfolding: Unfolding) => TypesetMath | undefined,
  columnEm: number,
): FittedMath {
  let best = asWritten;
  for (const unfolding of ['fractions', 'everything'] as const) {
    if (sizeFor(best, columnEm) !== undefined) break;
    const other = unfolded(unfolding);
    if (other && other.width.longestPiece < best.width.longestPiece) best = other;
  }
  const size = sizeFor(best, columnEm);
  return { ...shown(best, size ?? SIZES.at(-1)!), isTooWide: size === undefined };
}

function shown({ html, width }: TypesetMath, percent: number): Omit<FittedMath, 'isTooWide'> {
  return { html, size: percent === 100 ? '' : `size-${percent}`, em: (width.whole * percent) / 100 };
}

/** The largest type in which it fits; undefined where none does. */
function sizeFor({ width }: TypesetMath, columnEm: number): number | undefined {
  return SIZES.find((percent) => width.longestPiece * (percent / 100) <= columnEm);
}
