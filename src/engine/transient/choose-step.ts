import type { SurgeElement } from './element.ts';

/** The first step is at most this share of the shortest delay, of the shortest front, of the duration. */
const shareOfDelay = 1 / 2;
const shareOfFront = 1 / 10;
const shareOfDuration = 1 / 200;

/** So many times the fewest steps are tried for whole numbers, and so many for a small rest. */
const farthestSearch = 5;
const nearSearch = 2;

/** Beyond so many steps in the shortest delay no count is looked for. */
const mostSearched = 100_000;

/** A distance from a whole number of steps that counts as none. */
const negligibleRest = 1e-6;

/**
 * A step in seconds for a first run: short against the shortest delay, front and the duration, and where it can be such
 * that every line's delay is a whole number of steps, so that no wave has to be interpolated.
 */
export function chooseStep(elements: readonly SurgeElement[], duration: number): number {
  const delays = elements.flatMap(({ delay }) => (delay === undefined ? [] : [delay]));
  const fronts = elements.flatMap(({ shortestTime }) => (shortestTime === undefined ? [] : [shortestTime]));
  const longest = Math.min(
    shareOfDuration * duration,
    shareOfDelay * Math.min(...delays),
    shareOfFront * Math.min(...fronts),
  );
  if (delays.length === 0) return longest;
  const shortestDelay = Math.min(...delays);
  const fewest = Math.ceil(shortestDelay / longest - negligibleRest);
  // Of so many steps none fits better than another; whether they can be done is judged with the step.
  if (!(fewest <= mostSearched)) return longest;
  return shortestDelay / countOfSteps(delays, shortestDelay, fewest);
}

/** Steps in the shortest delay: the fewest that make every delay whole, else those near the fewest that miss least. */
function countOfSteps(delays: readonly number[], shortestDelay: number, fewest: number): number {
  let best = fewest;
  let least = Number.POSITIVE_INFINITY;
  for (let count = fewest; count <= farthestSearch * fewest; count++) {
    const rest = restOfDelays(delays, shortestDelay / count);
    if (rest === 0) return count;
    if (count <= nearSearch * fewest && rest < least - negligibleRest) {
      least = rest;
      best = count;
    }
  }
  return best;
}

/** By how much the delays miss whole numbers of steps, added up. */
function restOfDelays(delays: readonly number[], step: number): number {
  let rest = 0;
  for (const delay of delays) {
    const miss = Math.abs(delay / step - Math.round(delay / step));
    if (miss > negligibleRest) rest += miss;
  }
  return rest;
}
