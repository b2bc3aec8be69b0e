/** Terms of the series; so many suffice for any argument that a share of double precision can have. */
const MOST_TERMS = 300;
const MOST_ITERATIONS = 100;

/** Share of a standard normal quantity below `z`. Absolute error about 1e-15; series of the integral of the density. */
export function normalShare(z: number): number {
  if (z < 0) return 1 - normalShare(-z);
  let term = z;
  let sum = z;
  for (let k = 3; k < 2 * MOST_TERMS && term > 1e-18 * sum; k += 2) {
    term *= (z * z) / k;
    sum += term;
  }
  return 0.5 + density(z) * sum;
}

/**
 * The value below which a share of a standard normal quantity lies. Newton's iteration from the middle, which on the
 * concave half of the distribution never passes the solution. For shares from 1e-9 to 1 - 1e-9.
 *
 * @throws {RangeError} outside them
 */
export function normalQuantile(share: number): number {
  if (!(share >= 1e-9 && share <= 1 - 1e-9)) throw new RangeError(`no quantile of a share of ${share}`);
  if (share < 0.5) return -normalQuantile(1 - share);
  let z = 0;
  for (let iteration = 0; iteration < MOST_ITERATIONS; iteration++) {
    const change = (share - normalShare(z)) / density(z);
    z += change;
    if (change < 1e-12) break;
  }
  return z;
}

function density(z: number): number {
  return Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
}
