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
}

/** Widths of the column in em of a formula; the style sheet sets its type size, and indents a step by its symbol. */
export const STEP_EM = 36;
export const TEXT_EM = 40;

const SIZES = [100, 90, 80, 70, 60, 50, 40, 30, 20, 10] as const;
/** Smaller than this a line is written out rather than shrunk. */
const LEAST_LEGIBLE = 80;

/**
 * Sets a formula in display style. Where a piece that cannot be broken is too wide for the column it is made a little
 * smaller; where that does not do, its fractions are written on one line, which can be broken, and then all else that
 * cannot be broken. Of what is still too wide the largest type is taken that fits.
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
    if (sizeFor(best, columnEm) >= LEAST_LEGIBLE) break;
    const other = unfolded(unfolding);
    if (other && sizeFor(other, columnEm) > sizeFor(best, columnEm)) best = other;
  }
  return shown(best, sizeFor(best, columnEm));
}

function shown({ html, width }: TypesetMath, percent: number): FittedMath {
  return { html, size: percent === 100 ? '' : `size-${percent}`, em: (width.whole * percent) / 100 };
}

function sizeFor({ width }: TypesetMath, columnEm: number): number {
  return SIZES.find((percent) => width.longestPiece * (percent / 100) <= columnEm) ?? SIZES.at(-1)!;
}
