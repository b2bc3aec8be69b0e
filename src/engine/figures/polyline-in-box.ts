import { type Box, clipSegment, type Point } from './geometry.ts';

/** The parts of a polyline that lie within a box, each as one run of points. */
export function cutPolyline(points: readonly Point[], box: Box): readonly (readonly Point[])[] {
  const runs: Point[][] = [];
  let last: Point | undefined;
  for (let index = 1; index < points.length; index += 1) {
    const part = clipSegment({ from: points[index - 1]!, to: points[index]! }, box);
    if (part === undefined) {
      last = undefined;
      continue;
    }
    const joins = last !== undefined && distance(last, part.from) < 1e-6;
    if (joins) runs.at(-1)!.push(part.to);
    else runs.push([part.from, part.to]);
    last = part.to;
  }
  return runs;
}

/** Leaves out the points without which the line lies nowhere further than `tolerance` from where it was. */
export function thinPolyline(points: readonly Point[], tolerance: number): readonly Point[] {
  if (points.length < 3) return points;
  const kept = new Set([0, points.length - 1]);
  const open: (readonly [number, number])[] = [[0, points.length - 1]];
  for (let range = open.pop(); range !== undefined; range = open.pop()) {
    const [first, last] = range;
    let [farthest, most] = [-1, tolerance];
    for (let index = first + 1; index < last; index += 1) {
      const away = distanceFromSegment(points[index]!, points[first]!, points[last]!);
      if (away > most) [farthest, most] = [index, away];
    }
    if (farthest < 0) continue;
    kept.add(farthest);
    open.push([first, farthest], [farthest, last]);
  }
  return points.filter((_, index) => kept.has(index));
}

function distance(one: Point, other: Point): number {
  return Math.hypot(one.x - other.x, one.y - other.y);
}

function distanceFromSegment(at: Point, from: Point, to: Point): number {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const length = dx * dx + dy * dy;
  const part = length === 0 ? 0 : ((at.x - from.x) * dx + (at.y - from.y) * dy) / length;
  const within = Math.max(0, Math.min(1, part));
  return distance(at, { x: from.x + within * dx, y: from.y + within * dy });
}
