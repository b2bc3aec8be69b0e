import type { Waveform } from './waveform.ts';

/** Which pair of levels marks the front: 10 and 90 % for a current, 30 and 90 % for a voltage (IEC 60060-1). */
export type WaveformKind = 'current' | 'voltage';

/** Figures of one waveform, SI. A time is null where the waveform does not pass the level within its span. */
export interface WaveformProperties {
  /** The value furthest from zero, with its sign. */
  readonly peak: number;
  readonly peakTime: number;
  /** T1: 1.25 (t90 - t10) of a current, (t90 - t30)/0.6 of a voltage. */
  readonly frontTime: number | null;
  /** Where the straight line through the two front levels meets zero. */
  readonly virtualOrigin: number | null;
  /** T2: from the virtual origin to half the peak on the tail. */
  readonly halfValueTime: number | null;
  /** Between the two instants of half the peak (IEC 61000-4-5, edition 3). */
  readonly widthAtHalf: number | null;
  /** Integral over time, ampere seconds for a current. */
  readonly charge: number;
  /** Integral of the square over time, joules per ohm for a current. */
  readonly specificEnergy: number;
  /** The steepest rise or fall, as a positive number; infinite at a jump. */
  readonly maximumSteepness: number;
}

/** The span is read at this many instants, equally spaced in the logarithm of time: figures are right to 1e-5, of smooth waves to 1e-6. */
const samples = 20_000;

/** The first instant read, as a share of the span. */
const firstShare = 1e-9;

/** Front levels as a share of the peak. */
const frontLevels: Readonly<Record<WaveformKind, number>> = { current: 0.1, voltage: 0.3 };
const upperLevel = 0.9;

/** The properties of a waveform from time zero to `span` seconds. */
export function waveformProperties(waveform: Waveform, kind: WaveformKind, span: number): WaveformProperties {
  const instants = [0];
  for (let index = 0; index <= samples; index++) instants.push(span * firstShare ** (1 - index / samples));
  const jumps = waveform.jumps.filter((jump) => jump >= 0 && jump < span);
  // Just after a jump stands for the value to which it jumps: the waveform itself still has the one from before.
  const after = jumps.map((jump) => jump + span * 1e-12);
  const ordered = [...instants, ...jumps, ...after].sort((one, other) => one - other);
  const times = Float64Array.from(ordered);
  const values = times.map((time) => waveform.at(time));
  const properties = sampledWaveformProperties(times, values, kind);
  return jumps.length === 0 ? properties : { ...properties, maximumSteepness: Number.POSITIVE_INFINITY };
}

/** The properties of a recorded waveform: straight lines between samples in order of time. */
export function sampledWaveformProperties(
  times: Float64Array,
  values: Float64Array,
  kind: WaveformKind,
): WaveformProperties {
  const crest = indexOfCrest(values);
  const peak = values[crest] ?? 0;
  const frontLevel = frontLevels[kind];
  const lower = risingInstant(times, values, crest, frontLevel * peak);
  const upper = risingInstant(times, values, crest, upperLevel * peak);
  const half = fallingInstant(times, values, crest, 0.5 * peak);
  const halfBefore = risingInstant(times, values, crest, 0.5 * peak);
  const frontTime = lower === null || upper === null ? null : (upper - lower) / (upperLevel - frontLevel);
  const virtualOrigin = lower === null || frontTime === null ? null : lower - frontLevel * frontTime;
  return {
    peak,
    peakTime: times[crest] ?? 0,
    frontTime,
    virtualOrigin,
    halfValueTime: half === null || virtualOrigin === null ? null : half - virtualOrigin,
    widthAtHalf: half === null || halfBefore === null ? null : half - halfBefore,
    charge: integrate(times, values, (value) => value),
    specificEnergy: integrate(times, values, (value) => value * value),
    maximumSteepness: steepest(times, values),
  };
}

function indexOfCrest(values: Float64Array): number {
  let crest = 0;
  for (let index = 1; index < values.length; index++) {
    if (Math.abs(values[index]!) > Math.abs(values[crest]!)) crest = index;
  }
  return crest;
}

/** The first passage through a level on the way to the crest. */
function risingInstant(
  times: Float64Array,
  values: Float64Array,
  crest: number,
  level: number,
): number | null {
  if (level === 0) return null;
  const sign = Math.sign(level);
  for (let index = 0; index <= crest; index++) {
    if (sign * values[index]! >= sign * level)
      return index === 0 ? times[0]! : passage(times, values, index, level);
  }
  return null;
}

/** The first passage through a level after the crest. */
function fallingInstant(
  times: Float64Array,
  values: Float64Array,
  crest: number,
  level: number,
): number | null {
  if (level === 0) return null;
  const sign = Math.sign(level);
  for (let index = crest + 1; index < values.length; index++) {
    if (sign * values[index]! <= sign * level) return passage(times, values, index, level);
  }
  return null;
}

function passage(times: Float64Array, values: Float64Array, index: number, level: number): number {
  const before = values[index - 1]!;
  const share = (level - before) / (values[index]! - before);
  return times[index - 1]! + share * (times[index]! - times[index - 1]!);
}

function integrate(times: Float64Array, values: Float64Array, of: (value: number) => number): number {
  let sum = 0;
  for (let index = 1; index < times.length; index++) {
    sum += 0.5 * (of(values[index - 1]!) + of(values[index]!)) * (times[index]! - times[index - 1]!);
  }
  return sum;
}

function steepest(times: Float64Array, values: Float64Array): number {
  let largest = 0;
  for (let index = 1; index < times.length; index++) {
    const change = Math.abs(values[index]! - values[index - 1]!);
    if (change > 0) largest = Math.max(largest, change / (times[index]! - times[index - 1]!));
  }
  return largest;
}
