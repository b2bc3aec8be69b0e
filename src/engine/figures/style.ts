/**
 * Lettering and lines of every figure. Unit of length: 0.1 mm on paper; the column of the note is 1600 wide.
 */

/** Width of the text column of a note. */
export const COLUMN_WIDTH = 1600;
/** Of drawings of which two stand beside each other, or one beside text. */
export const HALF_WIDTH = 820;
/** The one size of type, 8.5 pt; its indices are 7.05 pt (`INDEX_SIZE`): nothing is smaller than 7 pt. */
export const TEXT_SIZE = 30;
/** From line to line, of the type size. */
export const LINE_SPACING = 1.25;
/** Height of capitals, of the type size. */
export const CAPITAL_HEIGHT = 0.66;
export const ASCENT = 0.72;
export const DESCENT = 0.24;
/** Type size of indices, of the size of the line. */
export const INDEX_SIZE = 0.83;
/** How far the foot of an index lies below or above the line, of the size of the line. */
export const INDEX_SHIFT = { line: 0, subscript: 0.2, superscript: -0.36 } as const;

export const INK = '#000';
export const GREYS = { dark: '#8c8c8c', middle: '#bdbdbd', light: '#e4e4e4', white: '#fff' } as const;
export type Fill = keyof typeof GREYS | 'ink' | 'none';

/** 0.13 mm, 0.18 mm, 0.35 mm, 0.5 mm and 0.8 mm. */
export const STROKES = { hair: 1.3, thin: 1.8, medium: 3.5, strong: 5, bold: 8 } as const;
export type Weight = keyof typeof STROKES;

export const DASHES = {
  solid: undefined,
  dashed: '16 9',
  short: '8 6',
  dotted: '2.5 6.5',
  chain: '26 7 3 7',
  'double-chain': '26 7 3 7 3 7',
  long: '34 10',
} as const;
export type Dash = keyof typeof DASHES;

export interface Style {
  readonly weight?: Weight;
  readonly dash?: Dash;
  readonly fill?: Fill;
  /** Draws the outline grey instead of black: the lines of a grid, on which labels may stand. */
  readonly grey?: 'dark' | 'middle';
  /** Draws no outline. */
  readonly noLine?: boolean;
}
