/** Mean heights over ground and the distance by which the outer phase stands outside its earth wire, all in m. */
export interface LineGeometry {
  readonly shieldHeight: number;
  readonly phaseHeight: number;
  readonly phaseOffset: number;
}

/** Striking distance to conductors in m, of a current in kA. IEEE Std 1243-1997, from memory. */
function strikeToConductor(current: number): number {
  return 10 * current ** 0.65;
}

/** Striking distance to ground below a phase at that height, m; of a current in kA. IEEE Std 1243-1997, from memory. */
function strikeToGround(current: number, phaseHeight: number): number {
  const factor = phaseHeight < 40 ? 3.6 + 1.7 * Math.log(43 - phaseHeight) : 5.5;
  return factor * current ** 0.65;
}

/** Share of the first strokes that exceed a current in kA: the curve of median 31 kA. IEEE Std 1243-1997, from memory. */
export function shareAbove(current: number): number {
  return 1 / (1 + (current / 31) ** 2.6);
}

/**
 * Width in m over which upright strokes of a current (kA) end on the outer phase: between the arc about the earth wire and the
 * line of the ground.
 */
export function exposedWidth(line: LineGeometry, current: number): number {
  const { shieldHeight: h, phaseHeight: y, phaseOffset: a } = line;
  const radius = strikeToConductor(current);
  const ground = strikeToGround(current, y);
  const apart = Math.hypot(a, h - y);
  const reach = radius * radius - (apart / 2) ** 2;
  const rise = ground - y;
  const outer = a + (rise > 0 ? Math.sqrt(Math.max(0, radius * radius - rise * rise)) : radius);
  // Of a small current the arcs do not meet: the phase is exposed beside that of the earth wire, unless the ground takes it.
  if (reach <= 0) return rise < radius ? Math.max(0, outer - Math.max(a - radius, radius)) : 0;
  const along = Math.sqrt(reach) / apart;
  const crossing = { x: a / 2 + along * (h - y), y: (h + y) / 2 + along * a };
  if (crossing.y <= ground) return 0;
  // Where the arcs meet below the earth wire, upright strokes end on the upper side of its arc out to its full radius.
  const inner = crossing.y < h ? radius : crossing.x;
  return Math.max(0, outer - inner);
}

/** Currents beyond this (kA) do not occur; below the least one a stroke is none. */
const MOST_CURRENT = 400;
const PIECES = 600;

/** The largest current in kA that can pass the earth wire; 0 where none can that is at least `least`. */
export function largestPassing(line: LineGeometry, least: number): number {
  if (exposedWidth(line, MOST_CURRENT) > 0) return MOST_CURRENT;
  const steps = 400;
  const at = (i: number) => least * (MOST_CURRENT / least) ** (i / steps);
  let last = steps - 1;
  while (last >= 0 && exposedWidth(line, at(last)) === 0) last--;
  if (last < 0) return 0;
  let [low, high] = [at(last), at(last + 1)];
  for (let turn = 0; turn < 100; turn++) {
    const middle = (low + high) / 2;
    if (exposedWidth(line, middle) > 0) low = middle;
    else high = middle;
  }
  return low;
}

/** Mean exposed width in m over all strokes, counting those from `least` kA on: one side of the line. */
export function meanExposedWidth(line: LineGeometry, least: number): number {
  const most = largestPassing(line, least);
  if (most <= least) return 0;
  // Over the logarithm of the current, at the middles of even pieces.
  let sum = 0;
  for (let i = 0; i < PIECES; i++) {
    const [from, to] = [least * (most / least) ** (i / PIECES), least * (most / least) ** ((i + 1) / PIECES)];
    sum += exposedWidth(line, Math.sqrt(from * to)) * (shareAbove(from) - shareAbove(to));
  }
  return sum;
}
