/** Lengths on paper in units of 0.1 mm; x to the right, y downwards. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export interface Segment {
  readonly from: Point;
  readonly to: Point;
}

export function point(x: number, y: number): Point {
  return { x, y };
}

export function boxAround(points: readonly Point[], margin = 0): Box {
  let [left, top, right, bottom] = NOWHERE;
  for (const { x, y } of points) {
    left = Math.min(left, x);
    top = Math.min(top, y);
    right = Math.max(right, x);
    bottom = Math.max(bottom, y);
  }
  return { left: left - margin, top: top - margin, right: right + margin, bottom: bottom + margin };
}

export function uniteBoxes(boxes: readonly Box[]): Box {
  let [left, top, right, bottom] = NOWHERE;
  for (const box of boxes) {
    left = Math.min(left, box.left);
    top = Math.min(top, box.top);
    right = Math.max(right, box.right);
    bottom = Math.max(bottom, box.bottom);
  }
  return { left, top, right, bottom };
}

/** The box of nothing: left, top, right and bottom of whatever is added to it become its own. */
const NOWHERE = [
  Number.POSITIVE_INFINITY,
  Number.POSITIVE_INFINITY,
  Number.NEGATIVE_INFINITY,
  Number.NEGATIVE_INFINITY,
] as const;

export function growBox(box: Box, by: number): Box {
  return { left: box.left - by, top: box.top - by, right: box.right + by, bottom: box.bottom + by };
}

export function moveBox(box: Box, dx: number, dy: number): Box {
  return { left: box.left + dx, top: box.top + dy, right: box.right + dx, bottom: box.bottom + dy };
}

export function turnPoint(from: Point, about: Point, degrees: number): Point {
  const angle = (degrees * Math.PI) / 180;
  const [dx, dy] = [from.x - about.x, from.y - about.y];
  return {
    x: about.x + dx * Math.cos(angle) - dy * Math.sin(angle),
    y: about.y + dx * Math.sin(angle) + dy * Math.cos(angle),
  };
}

export function cornersOf(box: Box): readonly Point[] {
  const { left, top, right, bottom } = box;
  return [point(left, top), point(right, top), point(right, bottom), point(left, bottom)];
}

/** The part of a segment that lies within a box; undefined where none does. */
export function clipSegment(segment: Segment, box: Box): Segment | undefined {
  const { from, to } = segment;
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const [enter, leave] = partWithin(from, dx, dy, box);
  if (enter > leave) return undefined;
  const at = (part: number): Point => point(from.x + part * dx, from.y + part * dy);
  return { from: at(enter), to: at(leave) };
}

/** Whether any part of a segment lies within a box. */
export function touchesBox({ from, to }: Segment, box: Box): boolean {
  const [enter, leave] = partWithin(from, to.x - from.x, to.y - from.y, box);
  return !(enter > leave);
}

/** Where a segment enters a box and leaves it, as parts of its length; it enters behind where it leaves if it lies without. */
function partWithin(from: Point, dx: number, dy: number, box: Box): readonly [enter: number, leave: number] {
  let [enter, leave] = [0, 1];
  for (let side = 0; side < 4; side++) {
    const slope = side === 0 ? -dx : side === 1 ? dx : side === 2 ? -dy : dy;
    const distance =
      side === 0
        ? from.x - box.left
        : side === 1
          ? box.right - from.x
          : side === 2
            ? from.y - box.top
            : box.bottom - from.y;
    if (slope === 0 && distance < 0) return [1, 0];
    if (slope < 0) enter = Math.max(enter, distance / slope);
    if (slope > 0) leave = Math.min(leave, distance / slope);
  }
  return [enter, leave];
}
