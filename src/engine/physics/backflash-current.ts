/** A tower with earth wires, as the simplified method sees it: SI units. */
export interface BackflashCase {
  /** Critical flashover voltage of the insulator string, V. */
  readonly flashover: number;
  /** Power-frequency voltage across it at the instant of the stroke, V. */
  readonly powerVoltage: number;
  readonly footing: number;
  /** Current at which the resistance of the footing has fallen by the root of 2; infinite where it does not fall. */
  readonly ionisationCurrent: number;
  /** Surge impedance of the earth wires together, ohms, and the coupling factor to the phase. */
  readonly wires: number;
  readonly coupling: number;
  /** Time in which a wave runs over a span, microseconds. */
  readonly spanTime: number;
}

/** Resistance of the footing at a current in A: the soil about it is ionised. */
export function footingAt(of: BackflashCase, current: number): number {
  return of.footing / Math.sqrt(1 + current / of.ionisationCurrent);
}

/** Flashover voltage for the wave that the footing and the reflections of the next towers shape, V. CIGRE TB 63, from memory. */
function nonStandardFlashover(of: BackflashCase, footing: number): number {
  const tail = (of.wires / footing) * of.spanTime;
  return (0.977 + 2.82 / tail) * of.flashover;
}

const MOST_CURRENT = 5e6;

/** The current in A from which a stroke to the tower flashes over to the phase; undefined where none of any size does. */
export function backflashCurrent(of: BackflashCase): number | undefined {
  const excess = (current: number) => {
    const footing = footingAt(of, current);
    const together = (footing * of.wires) / (of.wires + 2 * footing);
    return current * together * (1 - of.coupling) + of.powerVoltage - nonStandardFlashover(of, footing);
  };
  if (excess(MOST_CURRENT) < 0) return undefined;
  let [low, high] = [0, MOST_CURRENT];
  for (let turn = 0; turn < 200; turn++) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (excess(middle) < 0) low = middle;
    else high = middle;
  }
  return high;
}
