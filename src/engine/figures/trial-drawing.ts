/** Whether what is drawn now is thrown away: see `tryDrawing`. */
let isTrial = false;

/**
 * Draws to know whether something can be drawn, in a small part of the time: labels, which take most of it, have no place in what comes out, and
 * nothing is written of what is drawn but that it is there, and how much paper it takes up.
 *
 * @throws {NotDrawable} where the drawing with its labels would
 */
export function tryDrawing<T>(draw: () => T): T {
  const before = isTrial;
  isTrial = true;
  try {
    return draw();
  } finally {
    isTrial = before;
  }
}

export function isTrialDrawing(): boolean {
  return isTrial;
}
