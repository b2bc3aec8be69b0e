/**
 * Force per length (N/m) across one arm of a bend at a distance from the corner, both arms of one length (m) and at an
 * angle (rad) between 0 and pi, with the same current (A): field of the other arm by Biot and Savart. SI throughout.
 */
export function armForcePerLength(
  current: number,
  armLength: number,
  angle: number,
  distance: number,
): number {
  const [cosine, sine] = [Math.cos(angle), Math.sin(angle)];
  const toFarEnd = Math.sqrt(armLength ** 2 + distance ** 2 - 2 * armLength * distance * cosine);
  // µ0/(4 pi) is 1e-7 H/m.
  return (1e-7 * current ** 2 * (cosine + (armLength - distance * cosine) / toFarEnd)) / (distance * sine);
}
