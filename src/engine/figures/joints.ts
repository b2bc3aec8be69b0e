import { circle, type Mark } from './drawing.ts';
import type { Point } from './geometry.ts';

/** A filled dot: a joint between conductors, or the end of a hairline. */
export function dot(at: Point, radius = 6): Mark {
  return circle(at, radius, { fill: 'ink', noLine: true });
}
