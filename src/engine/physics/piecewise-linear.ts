import type { Waveform } from './waveform.ts';

/** A corner of a waveform: seconds, and volts or amperes. */
export type WaveformPoint = readonly [time: number, value: number];

/**
 * Straight lines between corners in order of time; zero before the first corner (or a jump to it), the last value
 * after the last. Two corners at one time make a jump. Throws a RangeError where times run backwards or none is given.
 */
export function piecewiseLinear(points: readonly WaveformPoint[]): Waveform {
  if (points.length === 0) throw new RangeError('a piecewise-linear waveform needs at least one corner');
  const times = Float64Array.from(points, ([time]) => time);
  const values = Float64Array.from(points, ([, value]) => value);
  for (let index = 1; index < times.length; index++) {
    if (!(times[index]! >= times[index - 1]!)) throw new RangeError('the corners of a waveform run in time');
  }
  return {
    at: (time) => interpolate(times, values, time),
    jumps: jumpsOf(points),
    corners: cornersOf(points),
    shortestTime: shortestRise(points),
  };
}

/** Straight front to `peak` in `frontTime`, then a straight tail through half of it at `halfValueTime` to zero. */
export function triangle(peak: number, frontTime: number, halfValueTime: number): Waveform {
  return piecewiseLinear([
    [0, 0],
    [frontTime, peak],
    [2 * halfValueTime - frontTime, 0],
  ]);
}

/** Continuous from the left: of several corners at one time the first counts. */
function interpolate(times: Float64Array, values: Float64Array, time: number): number {
  const last = times.length - 1;
  if (time < times[0]!) return 0;
  if (time === times[0]!) return 0;
  if (time > times[last]!) return values[last]!;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (times[middle]! < time) low = middle;
    else high = middle;
  }
  const share = (time - times[low]!) / (times[high]! - times[low]!);
  return values[low]! + share * (values[high]! - values[low]!);
}

function jumpsOf(points: readonly WaveformPoint[]): number[] {
  const jumps = new Set<number>();
  const [firstTime, firstValue] = points[0]!;
  if (firstValue !== 0) jumps.add(firstTime);
  for (let index = 1; index < points.length; index++) {
    const [time, value] = points[index]!;
    const [timeBefore, valueBefore] = points[index - 1]!;
    if (time === timeBefore && value !== valueBefore) jumps.add(time);
  }
  return [...jumps];
}

/** A change of slope below this share of the steepest slope makes no corner: recorded waves have many such. */
const smallestBend = 0.05;

function cornersOf(points: readonly WaveformPoint[]): number[] {
  const slopes = points.map(([time, value], index) => {
    const [nextTime, nextValue] = points[index + 1] ?? [Number.POSITIVE_INFINITY, value];
    return nextTime === time ? 0 : (nextValue - value) / (nextTime - time);
  });
  const steepest = Math.max(...slopes.map(Math.abs));
  const bends = points.filter(
    (_, index) => Math.abs(slopes[index]! - (slopes[index - 1] ?? 0)) > smallestBend * steepest,
  );
  return [...new Set(bends.map(([time]) => time))];
}

function shortestRise(points: readonly WaveformPoint[]): number {
  let shortest = Number.POSITIVE_INFINITY;
  for (let index = 1; index < points.length; index++) {
    const length = points[index]![0] - points[index - 1]![0];
    if (length > 0) shortest = Math.min(shortest, length);
  }
  return shortest;
}

/** Straight front to `peak` in `frontTime`, constant after it. */
export function ramp(peak: number, frontTime: number): Waveform {
  return piecewiseLinear([
    [0, 0],
    [frontTime, peak],
  ]);
}
