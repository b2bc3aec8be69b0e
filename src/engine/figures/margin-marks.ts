import { circle, group, line, type Mark, polygon, rect } from './drawing.ts';
import { boxAround, type Point, point } from './geometry.ts';

/** Marks of points that are told apart without colour. */
export type MarginMark = 'disc' | 'ring' | 'cross' | 'square' | 'triangle';

const HALF = 9;

export function markPoint(at: Point, mark: MarginMark): Mark {
  switch (mark) {
    case 'disc':
      return circle(at, HALF, { fill: 'ink', noLine: true });
    case 'ring':
      return circle(at, HALF, { fill: 'white', weight: 'medium' });
    case 'cross':
      return group([
        line(point(at.x - HALF, at.y - HALF), point(at.x + HALF, at.y + HALF), { weight: 'medium' }),
        line(point(at.x - HALF, at.y + HALF), point(at.x + HALF, at.y - HALF), { weight: 'medium' }),
      ]);
    case 'square':
      return rect(boxAround([at], HALF), { fill: 'white', weight: 'medium' });
    case 'triangle':
      return polygon(
        [point(at.x, at.y - HALF), point(at.x + HALF, at.y + HALF), point(at.x - HALF, at.y + HALF)],
        { fill: 'white', weight: 'medium' },
      );
  }
}
