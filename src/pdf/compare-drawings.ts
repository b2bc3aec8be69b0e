import { type DrawnPage, POINTS_PER_INCH } from './drawn-page.ts';

/** Where two drawings of a page differ to the eye, in millimetres from its upper left corner. */
export interface DrawingDifference {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** How far the edge of a letter may move from one browser to another, in points of the raster. */
const SHIFT = 1;
/** Difference in brightness, of 255, below which two points look alike. */
const ALIKE = 64;

/**
 * The rectangle around all that differs between two drawings of a page; undefined where they look alike. A point differs where the other
 * drawing has nothing like it as far around as an edge may move.
 */
export function compareDrawings(one: DrawnPage, other: DrawnPage): DrawingDifference | undefined {
  const [first, second] = [one, other].map(brightness) as [Uint8Array, Uint8Array];
  if (one.width !== other.width || one.height !== other.height)
    return toMillimetres(0, 0, Math.max(one.width, other.width), Math.max(one.height, other.height));
  const { width, height } = one;
  let [left, top, right, bottom] = [width, height, -1, -1];
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const at = y * width + x;
      if (Math.abs(first[at]! - second[at]!) < ALIKE) continue;
      if (isNear(first[at]!, second, x, y, width, height) && isNear(second[at]!, first, x, y, width, height))
        continue;
      left = Math.min(left, x);
      right = Math.max(right, x);
      top = Math.min(top, y);
      bottom = y;
    }
  }
  return right < 0 ? undefined : toMillimetres(left, top, right + 1 - left, bottom + 1 - top);
}

function brightness({ points }: DrawnPage): Uint8Array {
  const bright = new Uint8Array(points.length / 4);
  for (let i = 0; i < bright.length; i += 1)
    bright[i] = (points[4 * i]! * 3 + points[4 * i + 1]! * 6 + points[4 * i + 2]!) / 10;
  return bright;
}

/** Whether a value lies between the darkest and the brightest point around a place, or near them. */
function isNear(
  value: number,
  drawing: Uint8Array,
  x: number,
  y: number,
  width: number,
  height: number,
): boolean {
  let [least, most] = [255, 0];
  for (let row = Math.max(0, y - SHIFT); row <= Math.min(height - 1, y + SHIFT); row += 1) {
    for (let column = Math.max(0, x - SHIFT); column <= Math.min(width - 1, x + SHIFT); column += 1) {
      const point = drawing[row * width + column]!;
      least = Math.min(least, point);
      most = Math.max(most, point);
    }
  }
  return value >= least - ALIKE && value <= most + ALIKE;
}

function toMillimetres(left: number, top: number, width: number, height: number): DrawingDifference {
  const millimetres = (points: number): number => Math.round((points * 25.4) / POINTS_PER_INCH);
  return {
    left: millimetres(left),
    top: millimetres(top),
    width: millimetres(width),
    height: millimetres(height),
  };
}
