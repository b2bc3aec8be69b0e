import type { Dimension } from './dimension.ts';

/** One unit symbol: SI value = value * multiplier * 10^exponent10 (+ offset, for scales of temperature). */
export interface UnitSymbol {
  readonly dimension: Dimension;
  readonly exponent10: number;
  readonly multiplier: number;
  readonly offset: number;
  /** How the unit is printed in formulas (LaTeX, upright). */
  readonly tex: string;
  /** How the unit is printed in running text. */
  readonly print: string;
}

const PREFIXES: readonly (readonly [symbol: string, exponent10: number, tex: string, print: string])[] = [
  ['n', -9, '\\mathrm{n}', 'n'],
  ['u', -6, '\\text{µ}', 'µ'],
  ['µ', -6, '\\text{µ}', 'µ'], // U+00B5, micro sign
  ['μ', -6, '\\text{µ}', 'µ'], // U+03BC, Greek mu
  ['m', -3, '\\mathrm{m}', 'm'],
  ['k', 3, '\\mathrm{k}', 'k'],
  ['M', 6, '\\mathrm{M}', 'M'],
  ['G', 9, '\\mathrm{G}', 'G'],
];

const OHM_TEX = '\\Omega';

/** Units that take the prefixes above. The kilogram is the base: the gram carries the exponent. */
const PREFIXED: readonly (readonly [
  symbol: string,
  dimension: Dimension,
  exponent10: number,
  tex: string,
  print: string,
])[] = [
  ['m', [1, 0, 0, 0, 0], 0, '\\mathrm{m}', 'm'],
  ['g', [0, 1, 0, 0, 0], -3, '\\mathrm{g}', 'g'],
  ['s', [0, 0, 1, 0, 0], 0, '\\mathrm{s}', 's'],
  ['A', [0, 0, 0, 1, 0], 0, '\\mathrm{A}', 'A'],
  ['K', [0, 0, 0, 0, 1], 0, '\\mathrm{K}', 'K'],
  ['C', [0, 0, 1, 1, 0], 0, '\\mathrm{C}', 'C'],
  ['V', [2, 1, -3, -1, 0], 0, '\\mathrm{V}', 'V'],
  ['ohm', [2, 1, -3, -2, 0], 0, OHM_TEX, 'Ω'],
  ['Ω', [2, 1, -3, -2, 0], 0, OHM_TEX, 'Ω'], // U+03A9, Greek capital omega
  ['\u2126', [2, 1, -3, -2, 0], 0, OHM_TEX, 'Ω'], // U+2126, ohm sign
  ['S', [-2, -1, 3, 2, 0], 0, '\\mathrm{S}', 'S'],
  ['H', [2, 1, -2, -2, 0], 0, '\\mathrm{H}', 'H'],
  ['F', [-2, -1, 4, 2, 0], 0, '\\mathrm{F}', 'F'],
  ['J', [2, 1, -2, 0, 0], 0, '\\mathrm{J}', 'J'],
  ['W', [2, 1, -3, 0, 0], 0, '\\mathrm{W}', 'W'],
  ['VA', [2, 1, -3, 0, 0], 0, '\\mathrm{VA}', 'VA'],
  ['N', [1, 1, -2, 0, 0], 0, '\\mathrm{N}', 'N'],
  ['Pa', [-1, 1, -2, 0, 0], 0, '\\mathrm{Pa}', 'Pa'],
  ['Hz', [0, 0, -1, 0, 0], 0, '\\mathrm{Hz}', 'Hz'],
  ['T', [0, 1, -2, -1, 0], 0, '\\mathrm{T}', 'T'],
];

/** Units without prefixes: multiplier is the exact factor to SI. */
const SINGLE: Readonly<Record<string, Partial<UnitSymbol> & { readonly dimension: Dimension }>> = {
  '1': { dimension: [0, 0, 0, 0, 0], tex: '', print: '' },
  '%': { dimension: [0, 0, 0, 0, 0], exponent10: -2, tex: '\\%' },
  rad: { dimension: [0, 0, 0, 0, 0] },
  deg: { dimension: [0, 0, 0, 0, 0], multiplier: Math.PI / 180, tex: '^\\circ', print: '°' },
  '°': { dimension: [0, 0, 0, 0, 0], multiplier: Math.PI / 180, tex: '^\\circ', print: '°' },
  cm: { dimension: [1, 0, 0, 0, 0], exponent10: -2 },
  pF: { dimension: [-2, -1, 4, 2, 0], exponent10: -12 },
  ft: { dimension: [1, 0, 0, 0, 0], multiplier: 0.3048 },
  in: { dimension: [1, 0, 0, 0, 0], multiplier: 0.0254 },
  min: { dimension: [0, 0, 1, 0, 0], multiplier: 60 },
  h: { dimension: [0, 0, 1, 0, 0], multiplier: 3600 },
  d: { dimension: [0, 0, 1, 0, 0], multiplier: 86_400 },
  // A year is 365 days: the convention of this program for rates per year.
  year: { dimension: [0, 0, 1, 0, 0], multiplier: 31_536_000 },
  degC: { dimension: [0, 0, 0, 0, 1], offset: 273.15, tex: '^\\circ\\mathrm{C}', print: '°C' },
  '°C': { dimension: [0, 0, 0, 0, 1], offset: 273.15, tex: '^\\circ\\mathrm{C}', print: '°C' },
};

/** `\\mathrm{k}` and `\\mathrm{A}` as `\\mathrm{kA}`. */
function joinUpright(prefix: string, symbol: string): string {
  return (prefix + symbol).replace('}\\mathrm{', '');
}

function buildTable(): Map<string, UnitSymbol> {
  const table = new Map<string, UnitSymbol>();
  for (const [symbol, dimension, exponent10, tex, print] of PREFIXED) {
    table.set(symbol, { dimension, exponent10, multiplier: 1, offset: 0, tex, print });
    for (const [prefix, prefixExponent, prefixTex, prefixPrint] of PREFIXES) {
      table.set(prefix + symbol, {
        dimension,
        exponent10: exponent10 + prefixExponent,
        multiplier: 1,
        offset: 0,
        tex: joinUpright(prefixTex, tex),
        print: prefixPrint + print,
      });
    }
  }
  for (const [symbol, unit] of Object.entries(SINGLE)) {
    table.set(symbol, {
      exponent10: 0,
      multiplier: 1,
      offset: 0,
      tex: `\\mathrm{${symbol}}`,
      print: symbol,
      ...unit,
    });
  }
  return table;
}

/** Every unit symbol that can be written, by its spelling. Case counts: mH is not MH. */
export const UNIT_TABLE: ReadonlyMap<string, UnitSymbol> = buildTable();

/** The prefixes as they are written. */
export const UNIT_PREFIXES: readonly string[] = PREFIXES.map(([symbol]) => symbol);

/** Whether a unit is written with those prefixes; another one stands as it is. */
export function takesPrefix(symbol: string): boolean {
  return PREFIXED.some(([one]) => one === symbol);
}

/** The units as they are written without a prefix. */
export const PLAIN_UNITS: readonly string[] = [...PREFIXED.map(([symbol]) => symbol), ...Object.keys(SINGLE)];
