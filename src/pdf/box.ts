/** A rectangle by its edges: left, bottom, right, top. */
export type Box = readonly [number, number, number, number];

/** A transformation of the plane, as PDF writes it (PDF 32000-1, 8.3.3). */
export type Matrix = readonly [number, number, number, number, number, number];

export const IDENTITY: Matrix = [1, 0, 0, 1, 0, 0];

/** Both one after the other, the first first. */
export function chain(first: Matrix, then: Matrix): Matrix {
  const [a, b, c, d, e, f] = first;
  const [A, B, C, D, E, F] = then;
  return [a * A + b * C, a * B + b * D, c * A + d * C, c * B + d * D, e * A + f * C + E, e * B + f * D + F];
}

/** A move within what a transformation makes: one by (x, y), and then the transformation. */
export function moveWithin([a, b, c, d, e, f]: Matrix, x: number, y: number): Matrix {
  return [a, b, c, d, x * a + y * c + e, x * b + y * d + f];
}

export function apply([a, b, c, d, e, f]: Matrix, x: number, y: number): readonly [number, number] {
  return [a * x + c * y + e, b * x + d * y + f];
}

/** The smallest box around points; undefined where there are none. */
export function boxAround(points: readonly (readonly [number, number])[]): Box | undefined {
  if (points.length === 0) return undefined;
  let [left, bottom, right, top] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of points) {
    left = Math.min(left, x);
    bottom = Math.min(bottom, y);
    right = Math.max(right, x);
    top = Math.max(top, y);
  }
  return [left, bottom, right, top];
}

/** The box around a rectangle that was turned or moved. */
export function boxOf([left, bottom, right, top]: Box, [a, b, c, d, e, f]: Matrix): Box {
  // The four corners, without a list of them: this is asked of every sign of a document.
  const [x1, y1] = [a * left + c * bottom + e, b * left + d * bottom + f];
  const [x2, y2] = [a * right + c * bottom + e, b * right + d * bottom + f];
  const [x3, y3] = [a * right + c * top + e, b * right + d * top + f];
  const [x4, y4] = [a * left + c * top + e, b * left + d * top + f];
  return [
    Math.min(x1, x2, x3, x4),
    Math.min(y1, y2, y3, y4),
    Math.max(x1, x2, x3, x4),
    Math.max(y1, y2, y3, y4),
  ];
}

export function unite(a: Box | undefined, b: Box | undefined): Box | undefined {
  if (!a || !b) return a ?? b;
  return [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[2], b[2]), Math.max(a[3], b[3])];
}

/** What two boxes have in common; undefined where they have nothing. */
export function overlap(a: Box | undefined, b: Box): Box | undefined {
  if (!a) return undefined;
  const box: Box = [Math.max(a[0], b[0]), Math.max(a[1], b[1]), Math.min(a[2], b[2]), Math.min(a[3], b[3])];
  return box[0] <= box[2] && box[1] <= box[3] ? box : undefined;
}
