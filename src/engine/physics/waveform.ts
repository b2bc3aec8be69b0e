/**
 * A surge as a function of time, in SI units (volts or amperes, seconds).
 *
 * A waveform is zero up to its origin and continuous from the left: at the instant of a jump it still has the
 * value from before. `jumps` names those instants, `corners` those at which its slope jumps, `shortestTime` the
 * shortest time in which it changes appreciably (its front), from which a solver takes its step; infinite where only
 * jumps occur.
 */
export interface Waveform {
  readonly at: (time: number) => number;
  readonly jumps: readonly number[];
  readonly corners: readonly number[];
  readonly shortestTime: number;
}

/** A waveform that is zero up to time zero and constant after it. */
export function stepWaveform(value: number): Waveform {
  return {
    at: (time) => (time > 0 ? value : 0),
    jumps: [0],
    corners: [],
    shortestTime: Number.POSITIVE_INFINITY,
  };
}

/** The same course, every value multiplied by a pure number. */
export function scaleWaveform(waveform: Waveform, factor: number): Waveform {
  return { ...waveform, at: (time) => factor * waveform.at(time) };
}
