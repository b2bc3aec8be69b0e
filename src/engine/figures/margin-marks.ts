import { circle, group, line, type Mark, polygon, rect } from './drawing.ts';
import { boxAround, type Point, point } from './geometry.ts';

/** Marks of points that are told apart without colour. */
export type MarginMark = 'disc' | 'ring' | 'cross' | 'square' | 'triangle';

/** @param half half the size of the mark */
export function markPoint(at: Point, mark: MarginMark, half: number): Mark {
  switch (mark) {
    case 'disc':
      return circle(at, half, { fill: 'ink', noLine: true });
    case 'ring':
      return circle(at, half, { fill: 'white', weight: 'medium' });
    case 'cross':
      return group([
        line(point(at.x - half, at.y - half), point(at.x + half, at.y + half), { weight: 'medium' }),
        line(point(at.x - half, at.y + half), point(at.x + half, at.y - half), { weight: 'medium' }),
      ]);
    case 'square':
      return rect(boxAround([at], half), { fill: 'white', weight: 'medium' });
    case 'triangle':
      return polygon(
        [point(at.x, at.y - half), point(at.x + half, at.y + half), point(at.x - half, at.y + half)],
        { fill: 'white', weight: 'medium' },
      );
  }
}
