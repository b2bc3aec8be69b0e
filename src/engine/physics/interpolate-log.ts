/** Between points in order of x, linear in the logarithms of x and y; NaN outside them: nothing is extrapolated. */
export function interpolateLogarithmic(
  points: readonly (readonly [x: number, y: number])[],
  x: number,
): number {
  const above = points.findIndex(([px]) => px >= x);
  if (above < 0) return Number.NaN;
  const [highX, highY] = points[above]!;
  if (highX === x) return highY;
  const below = points[above - 1];
  if (!below) return Number.NaN;
  const [lowX, lowY] = below;
  return lowY * (highY / lowY) ** (Math.log(x / lowX) / Math.log(highX / lowX));
}
