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

/** From which stroke a tower flashes back. */
export interface Backflash {
  /** Stroke to the tower, A. */
  readonly stroke: number;
  /** Resistance of the footing while it carries its share of that stroke, ohms. */
  readonly footing: number;
  /** Time constant of the tail of the voltage across the string, microseconds. */
  readonly tail: number;
}

/** Resistance of the footing that carries a current in A: the soil about it is ionised. */
function footingAt(of: BackflashCase, carried: number): number {
  return of.footing / Math.sqrt(1 + carried / of.ionisationCurrent);
}

/** Flashover voltage for the wave that the footing and the reflections of the next towers shape, V. CIGRE TB 63, from memory. */
function nonStandardFlashover(of: BackflashCase, footing: number): number {
  return (0.977 + 2.82 / tailOf(of, footing)) * (of.flashover - 0.2 * of.powerVoltage);
}

function tailOf(of: BackflashCase, footing: number): number {
  return (of.wires / footing) * of.spanTime;
}

const MOST_CURRENT = 5e6;

/**
 * The least stroke to the tower that flashes over to the phase; undefined where none of any size does. Earth wires carry a part of
 * the stroke away to both sides: the footing is ionised by what is left for it.
 */
export function findBackflash(of: BackflashCase): Backflash | undefined {
  const excess = (carried: number) => {
    const footing = footingAt(of, carried);
    return carried * footing * (1 - of.coupling) + of.powerVoltage - nonStandardFlashover(of, footing);
  };
  if (excess(MOST_CURRENT) < 0) return undefined;
  let [low, high] = [0, MOST_CURRENT];
  for (let turn = 0; turn < 200; turn++) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (excess(middle) < 0) low = middle;
    else high = middle;
  }
  const footing = footingAt(of, high);
  return { stroke: (high * (of.wires + 2 * footing)) / of.wires, footing, tail: tailOf(of, footing) };
}
