import {
  type Box,
  boxAround,
  clipSegment,
  cornersOf,
  type Point,
  point,
  type Segment,
  turnPoint,
} from '../../../src/engine/figures/geometry.ts';
import { readSvg, type SvgElement, textOf, walkSvg, widthOf } from './read-svg.ts';

/** A text as it stands in a figure: the box of its letters, from the descenders to the capitals. */
export interface DrawnText {
  readonly words: string;
  readonly box: Box;
}

/** Everything that is drawn as a black line, curves as short pieces. Grey lines are those of grids. */
export function drawnLines(svg: string): readonly Segment[] {
  const found: Segment[] = [];
  walkSvg(readSvg(svg), (element, dx, dy) => {
    const { stroke, fill } = element.attributes;
    const isBlack = stroke === '#000' || (element.name === 'circle' && fill === '#000');
    if (element.name === 'text' || !isBlack) return;
    for (const course of coursesOf(element)) {
      const moved = course.map(({ x, y }) => point(x + dx, y + dy));
      for (let i = 1; i < moved.length; i += 1) found.push({ from: moved[i - 1]!, to: moved[i]! });
    }
  });
  return found;
}

function coursesOf(element: SvgElement): readonly (readonly Point[])[] {
  const number = (name: string): number => Number(element.attributes[name]);
  switch (element.name) {
    case 'line':
      return [[point(number('x1'), number('y1')), point(number('x2'), number('y2'))]];
    case 'polyline':
      return [listPoints(element)];
    case 'polygon':
      return [[...listPoints(element), listPoints(element)[0]!]];
    case 'rect': {
      const [left, top] = [number('x'), number('y')];
      const corners = cornersOf({ left, top, right: left + number('width'), bottom: top + number('height') });
      return [[...corners, corners[0]!]];
    }
    case 'circle':
      return [roundPoints(point(number('cx'), number('cy')), number('r'), 0, 360)];
    case 'path':
      return readPath(element.attributes.d!);
    default:
      return [];
  }
}

function listPoints(element: SvgElement): readonly Point[] {
  return element.attributes.points!.split(' ').map((pair) => {
    const [x, y] = pair.split(',').map(Number);
    return point(x!, y!);
  });
}

function roundPoints(center: Point, radius: number, from: number, to: number): readonly Point[] {
  const pieces = Math.max(12, Math.ceil(Math.abs(to - from) / 2));
  const start = point(center.x + radius, center.y);
  return Array.from({ length: pieces + 1 }, (_, i) =>
    turnPoint(start, center, from + ((to - from) * i) / pieces),
  );
}

const COMMAND = /([MLAZ])([^MLAZ]*)/g;

/** Paths of `M`, `L`, `A` with equal radii, and `Z`. */
function readPath(d: string): readonly (readonly Point[])[] {
  const courses: Point[][] = [];
  for (const [, command, rest] of d.matchAll(COMMAND)) {
    const numbers = rest!
      .trim()
      .split(/[\s,]+/)
      .map(Number);
    const last = courses.at(-1);
    if (command === 'M') courses.push([point(numbers[0]!, numbers[1]!)]);
    else if (command === 'L') last!.push(point(numbers[0]!, numbers[1]!));
    else if (command === 'Z') last!.push(last![0]!);
    else last!.push(...arcPoints(last!.at(-1)!, numbers));
  }
  return courses;
}

function arcPoints(from: Point, [radius, , , large, sweep, x, y]: readonly number[]): readonly Point[] {
  const to = point(x!, y!);
  const half = Math.hypot(to.x - from.x, to.y - from.y) / 2;
  const rise = Math.sqrt(Math.max(0, radius! ** 2 - half ** 2)) * (large === sweep ? -1 : 1);
  const along = { x: (to.x - from.x) / (2 * half), y: (to.y - from.y) / (2 * half) };
  const center = point((from.x + to.x) / 2 - rise * along.y, (from.y + to.y) / 2 + rise * along.x);
  const angle = (at: Point): number => (Math.atan2(at.y - center.y, at.x - center.x) * 180) / Math.PI;
  const start = angle(from);
  let end = angle(to);
  if (sweep === 1 && end < start) end += 360;
  if (sweep === 0 && end > start) end -= 360;
  return roundPoints(center, radius!, start, end);
}

/** Every text with its box, also of texts that are turned. */
export function drawnTexts(svg: string): readonly DrawnText[] {
  const found: DrawnText[] = [];
  walkSvg(readSvg(svg), (element, dx, dy) => {
    if (element.name !== 'text') return;
    const { attributes } = element;
    const size = Number(attributes['font-size']);
    const width = widthOf(element, size);
    const part = { start: 0, middle: 0.5, end: 1 }[attributes['text-anchor'] ?? 'start'] ?? 0;
    const left = Number(attributes.x) - part * width;
    const base = Number(attributes.y);
    const level = { left, right: left + width, top: base - 0.7 * size, bottom: base + 0.2 * size };
    const turn = /^rotate\((\S+) (\S+) (\S+)\)$/.exec(attributes.transform ?? '');
    const corners = cornersOf(level).map((corner) =>
      turn === null ? corner : turnPoint(corner, point(Number(turn[2]), Number(turn[3])), Number(turn[1])),
    );
    const box = boxAround(corners.map(({ x, y }) => point(x + dx, y + dy)));
    found.push({ words: textOf(element), box });
  });
  return found;
}

/** What is wrong with the labels of a figure: one over another, over a line, or beyond the edge of the sheet. */
export function labelFaults(svg: string): readonly string[] {
  const texts = drawnTexts(svg);
  const lines = drawnLines(svg);
  const [left, top, width, height] = readSvg(svg).attributes.viewBox!.split(' ').map(Number);
  const faults: string[] = [];
  texts.forEach(({ words, box }, index) => {
    for (const other of texts.slice(index + 1))
      if (overlap(box, other.box)) faults.push(`'${words}' lies on '${other.words}'`);
    const core = { left: box.left + 1, right: box.right - 1, top: box.top + 1, bottom: box.bottom - 1 };
    const crossed = core.right > core.left && lines.find((line) => clipSegment(line, core) !== undefined);
    if (crossed)
      faults.push(
        `'${words}' lies on the line from ${crossed.from.x.toFixed(0)} ${crossed.from.y.toFixed(0)} to ${crossed.to.x.toFixed(0)} ${crossed.to.y.toFixed(0)}`,
      );
    if (box.left < left! || box.right > left! + width! || box.top < top! || box.bottom > top! + height!)
      faults.push(`'${words}' reaches beyond the sheet`);
  });
  return faults;
}

function overlap(one: Box, other: Box): boolean {
  const level = Math.min(one.right, other.right) - Math.max(one.left, other.left);
  const upright = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
  return level > 0.5 && upright > 0.5;
}
