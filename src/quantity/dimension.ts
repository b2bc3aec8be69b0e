/**
 * The dimension of a quantity: exponents of length, mass, time, electric current, temperature.
 * Exponents are multiples of one half or one third at most, as roots make them.
 */
export type Dimension = readonly [
  length: number,
  mass: number,
  time: number,
  current: number,
  temperature: number,
];

export const PURE_NUMBER: Dimension = [0, 0, 0, 0, 0];

export function multiply(a: Dimension, b: Dimension): Dimension {
  return combine(a, b, (x, y) => x + y);
}

export function divide(a: Dimension, b: Dimension): Dimension {
  return combine(a, b, (x, y) => x - y);
}

export function power(a: Dimension, exponent: number): Dimension {
  return combine(a, a, (x) => x * exponent);
}

export function sameDimension(a: Dimension, b: Dimension): boolean {
  return a.every((x, i) => Math.abs(x - b[i]!) < 1e-9);
}

export function isPure(a: Dimension): boolean {
  return sameDimension(a, PURE_NUMBER);
}

function combine(a: Dimension, b: Dimension, f: (x: number, y: number) => number): Dimension {
  return [f(a[0], b[0]), f(a[1], b[1]), f(a[2], b[2]), f(a[3], b[3]), f(a[4], b[4])];
}

/** Dimensions that have a name in the trade, with an article as a message needs it. */
const NAMES: readonly (readonly [Dimension, string])[] = [
  [[0, 0, 0, 0, 0], 'a pure number'],
  [[1, 0, 0, 0, 0], 'a length'],
  [[2, 0, 0, 0, 0], 'an area'],
  [[3, 0, 0, 0, 0], 'a volume'],
  [[0, 1, 0, 0, 0], 'a mass'],
  [[0, 0, 1, 0, 0], 'a time'],
  [[0, 0, -1, 0, 0], 'a frequency or rate'],
  [[0, 0, 0, 1, 0], 'a current'],
  [[0, 0, 0, 0, 1], 'a temperature'],
  [[0, 0, 1, 1, 0], 'a charge'],
  [[2, 1, -3, -1, 0], 'a voltage'],
  [[2, 1, -3, -2, 0], 'a resistance or impedance'],
  [[2, 1, -2, -2, 0], 'an inductance'],
  [[1, 1, -2, -2, 0], 'an inductance per length'],
  [[-2, -1, 4, 2, 0], 'a capacitance'],
  [[-3, -1, 4, 2, 0], 'a capacitance per length'],
  [[3, 1, -3, -2, 0], 'a resistivity'],
  [[1, 1, -3, -2, 0], 'a resistance per length'],
  [[2, 1, -2, 0, 0], 'an energy or moment'],
  [[2, 1, -3, 0, 0], 'a power'],
  [[1, 1, -2, 0, 0], 'a force'],
  [[0, 1, -2, 0, 0], 'a force per length'],
  [[-1, 1, -2, 0, 0], 'a pressure'],
  [[0, 0, -1, 1, 0], 'a current steepness'],
  [[2, 1, -4, -1, 0], 'a voltage steepness'],
  [[1, 1, -3, -1, 0], 'an electric field strength'],
  [[1, 0, -1, 0, 0], 'a velocity'],
  [[0, 0, 1, 2, 0], 'a specific energy (charge squared per time, or energy per resistance)'],
  [[-2, 0, -1, 0, 0], 'a rate per area'],
  [[-3, 1, 0, 0, 0], 'a density'],
  [[2, 0, -2, 0, -1], 'a specific heat'],
  [[2, 1, -2, 0, -1], 'a heat capacity'],
  [[0, 0, 0, 0, -1], 'a temperature coefficient'],
  [[2, 0, -2, 0, 0], 'an energy per mass'],
  [[-2, 0, 0, 1, 0], 'a current density'],
  [[-1, 0, 0, 0, 0], 'a number per length'],
  [[-1, 0, -1, 0, 0], 'a rate per length'],
];

const BASE_SYMBOLS = ['m', 'kg', 's', 'A', 'K'] as const;

/** The name of a dimension with its article; where it has none, its base units. */
export function nameDimension(dimension: Dimension): string {
  const named = NAMES.find(([known]) => sameDimension(known, dimension));
  if (named) return named[1];
  const factors = dimension
    .map((exponent, i) => [BASE_SYMBOLS[i], Math.round(exponent * 1e6) / 1e6] as const)
    .filter(([, exponent]) => exponent !== 0)
    .map(([symbol, exponent]) => (exponent === 1 ? symbol : `${symbol}^${exponent}`));
  return `a quantity in ${factors.join(' ')}`;
}
