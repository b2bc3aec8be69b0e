import { setMath } from './set-math.ts';
import { unfoldTex } from './unfold-tex.ts';

/** A formula that stays within the column. */
export interface FittedMath {
  readonly html: string;
  /** The class that makes it small enough; empty where it need not be. */
  readonly size: string;
}

/** Widths of the column in em of a formula; the style sheet sets its type size, and indents a step by its symbol. */
export const STEP_EM = 36;
export const TEXT_EM = 40;

const SIZES = [100, 90, 80, 70, 60, 50] as const;
/** Smaller than this a line is written out rather than shrunk. */
const LEAST_LEGIBLE = 80;

/**
 * Sets a formula in display style. Where a piece that cannot be broken is too wide for the column it is made a little
 * smaller; where that does not do, its fractions are written on one line, which can be broken.
 */
export function fitMath(tex: string, columnEm: number): FittedMath {
  const asWritten = setMath(`\\displaystyle ${tex}`);
  const size = sizeFor(asWritten.width.longestPiece, columnEm);
  if (size >= LEAST_LEGIBLE) return { html: asWritten.html, size: className(size) };
  const unfolded = setMath(`\\displaystyle ${unfoldTex(tex)}`);
  const unfoldedSize = sizeFor(unfolded.width.longestPiece, columnEm);
  return unfoldedSize > size
    ? { html: unfolded.html, size: className(unfoldedSize) }
    : { html: asWritten.html, size: className(size) };
}

function sizeFor(longestPiece: number, columnEm: number): number {
  return SIZES.find((percent) => longestPiece * (percent / 100) <= columnEm) ?? SIZES.at(-1)!;
}

function className(size: number): string {
  return size === 100 ? '' : `size-${size}`;
}
