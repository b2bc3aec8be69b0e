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
  const xs = points.map((each) => each.x);
  const ys = points.map((each) => each.y);
  return {
    left: Math.min(...xs) - margin,
    top: Math.min(...ys) - margin,
    right: Math.max(...xs) + margin,
    bottom: Math.max(...ys) + margin,
  };
}

export function uniteBoxes(boxes: readonly Box[]): Box {
  return {
    left: Math.min(...boxes.map((box) => box.left)),
    top: Math.min(...boxes.map((box) => box.top)),
    right: Math.max(...boxes.map((box) => box.right)),
    bottom: Math.max(...boxes.map((box) => box.bottom)),
  };
}

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
  let [enter, leave] = [0, 1];
  const sides: readonly (readonly [number, number])[] = [
    [-dx, from.x - box.left],
    [dx, box.right - from.x],
    [-dy, from.y - box.top],
    [dy, box.bottom - from.y],
  ];
  for (const [slope, distance] of sides) {
    if (slope === 0 && distance < 0) return undefined;
    if (slope < 0) enter = Math.max(enter, distance / slope);
    if (slope > 0) leave = Math.min(leave, distance / slope);
  }
  if (enter > leave) return undefined;
  const at = (part: number): Point => point(from.x + part * dx, from.y + part * dy);
  return { from: at(enter), to: at(leave) };
}
