/** A point of a waveform: seconds, and volts or amperes. */
export interface CoursePoint {
  readonly x: number;
  readonly y: number;
}

const GROUPS = 1200;

/** A recorded course up to an instant, in so many groups of samples: the lowest and the highest of each remain. */
export function thinCourse(times: Float64Array, values: Float64Array, end: number): CoursePoint[] {
  let count = times.length;
  while (count > 1 && times[count - 1]! > end * (1 + 1e-9)) count--;
  const size = Math.max(1, Math.ceil(count / GROUPS));
  const points: CoursePoint[] = [];
  for (let first = 0; first < count; first += size) {
    const last = Math.min(count, first + size) - 1;
    let [low, high] = [first, first];
    for (let sample = first; sample <= last; sample++) {
      if (values[sample]! < values[low]!) low = sample;
      if (values[sample]! > values[high]!) high = sample;
    }
    // The very last sample stays, so that every course ends at the same instant.
    const kept = new Set(last === count - 1 ? [low, high, last] : [low, high]);
    for (const sample of [...kept].sort((a, b) => a - b)) {
      points.push({ x: times[sample]!, y: values[sample]! });
    }
  }
  return points;
}
