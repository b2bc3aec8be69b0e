const BISECTIONS = 200;

/**
 * Upper bound of a share of which `count` of `size` independent trials were found, at a level of confidence: the
 * share at which so few would be found with probability 1 - confidence only (Clopper and Pearson). 1 where all were found.
 */
export function binomialUpperBound(count: number, size: number, confidence: number): number {
  if (count >= size) return 1;
  let [low, high] = [count / size, 1];
  for (let i = 0; i < BISECTIONS && high - low > 1e-15 * high; i++) {
    const middle = (low + high) / 2;
    if (probabilityOfAtMost(count, size, middle) > 1 - confidence) low = middle;
    else high = middle;
  }
  return high;
}

/** Summed in logarithms, relative to the largest term, so that nothing vanishes. */
function probabilityOfAtMost(count: number, size: number, share: number): number {
  let logarithm = size * Math.log1p(-share);
  const logarithms = [logarithm];
  for (let k = 1; k <= count; k++) {
    logarithm += Math.log((size - k + 1) / k) + Math.log(share) - Math.log1p(-share);
    logarithms.push(logarithm);
  }
  const largest = logarithms.reduce((most, each) => Math.max(most, each));
  return Math.exp(largest) * logarithms.reduce((sum, each) => sum + Math.exp(each - largest), 0);
}
