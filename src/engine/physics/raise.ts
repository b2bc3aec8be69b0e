/** Up to this exponent a few multiplications are quicker than logarithm and exponential. */
const highestWhole = 64;

/**
 * A positive base to a power, some times quicker than `**` and within about 1e-13 of it: whole exponents from 1 to 64 by
 * multiplication, others by exponential and logarithm.
 */
export function raise(base: number, exponent: number): number {
  if (!(Number.isInteger(exponent) && exponent >= 1 && exponent <= highestWhole)) {
    return Math.exp(exponent * Math.log(base));
  }
  let power = 1;
  let square = base;
  let rest = exponent;
  for (;;) {
    if ((rest & 1) === 1) power *= square;
    rest >>= 1;
    if (rest === 0) return power;
    square *= square;
  }
}
