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
export function boxOf([left, bottom, right, top]: Box, matrix: Matrix): Box {
  return boxAround([
    apply(matrix, left, bottom),
    apply(matrix, right, bottom),
    apply(matrix, right, top),
    apply(matrix, left, top),
  ])!;
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
