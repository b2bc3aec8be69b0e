import { nearestName } from '../diagnostics/nearest-name.ts';
import { found, type Reading, refused } from '../diagnostics/problem.ts';
import { type Dimension, multiply, PURE_NUMBER, power } from './dimension.ts';
import { UNIT_TABLE, type UnitSymbol } from './unit-table.ts';

/** A unit as it was written, ready to convert. SI value = value * multiplier * 10^exponent10 + offset. */
export interface Unit {
  /** The unit as text, for records and machines: 'kA/us'. The pure number is '1'. */
  readonly text: string;
  /** The unit as LaTeX, upright; empty for a pure number. */
  readonly tex: string;
  /** The unit as running text: 'kA/µs'; empty for a pure number. */
  readonly print: string;
  readonly dimension: Dimension;
  readonly exponent10: number;
  readonly multiplier: number;
  readonly offset: number;
}

interface Factor {
  readonly symbol: UnitSymbol;
  readonly exponent: number;
  readonly spelling: string;
}

const SUPERSCRIPTS: Readonly<Record<string, string>> = {
  '⁻': '-',
  '⁰': '0',
  '¹': '1',
  '²': '2',
  '³': '3',
  '⁴': '4',
  '⁵': '5',
  '⁶': '6',
  '⁷': '7',
  '⁸': '8',
  '⁹': '9',
};

/** A sign that touches the letters before it belongs to none: m° is neither a metre times a degree nor a thousandth of one. */
const TOKEN =
  /(?!(?<=[A-Za-zµμΩ\u2126])[%°])\s*(?:([*·/()])|(1(?![\d.]))|([%°][A-Za-z]*|[A-Za-zµμΩ\u2126]+)(?:\^(-?\d+)|([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+))?)/y;

/** What was read before: a project names few units, many times each. */
const read = new Map<string, Reading<Unit>>();
const MOST_UNITS_KEPT = 1000;

/** As `parseUnit`; each text is parsed once. */
export function readUnit(text: string): Reading<Unit> {
  const known = read.get(text);
  if (known) return known;
  if (read.size >= MOST_UNITS_KEPT) read.clear();
  const reading = parseUnit(text);
  read.set(text, reading);
  return reading;
}

/**
 * Reads a unit: symbols multiplied by a blank, `*` or `·`, divided by `/`, raised by `^` or superscripts.
 * A product after a division needs parentheses; a repeated division (1/km^2/year) does not.
 */
function parseUnit(text: string): Reading<Unit> {
  const trimmed = text.trim();
  if (trimmed === '' || trimmed === '1') return found(PURE_UNIT);
  const factors: Factor[] = [];
  let position = 0;
  let dividing = false;
  let hasDivision = false;
  let inParentheses = false;
  let expectsFactor = true;
  while (position < trimmed.length) {
    TOKEN.lastIndex = position;
    const match = TOKEN.exec(trimmed);
    if (!match) return refused('malformed-unit', { unit: trimmed });
    position = TOKEN.lastIndex;
    const [, operator, one, symbolText, caret, superscript] = match;
    if (operator === '(') {
      if (!expectsFactor || inParentheses || !dividing) return refused('malformed-unit', { unit: trimmed });
      inParentheses = true;
    } else if (operator === ')') {
      if (expectsFactor || !inParentheses) return refused('malformed-unit', { unit: trimmed });
      inParentheses = false;
      dividing = false;
    } else if (operator === '/') {
      if (expectsFactor || inParentheses) return refused('malformed-unit', { unit: trimmed });
      dividing = true;
      hasDivision = true;
      expectsFactor = true;
    } else if (operator) {
      if (expectsFactor) return refused('malformed-unit', { unit: trimmed });
      if (hasDivision && !inParentheses) return refused('ambiguous-unit', { unit: trimmed });
      expectsFactor = true;
    } else if (one) {
      if (factors.length > 0 || !expectsFactor || hasDivision || !/^\s*\//.test(trimmed.slice(position)))
        return refused('malformed-unit', { unit: trimmed });
      expectsFactor = false;
    } else {
      if (!expectsFactor && hasDivision && !inParentheses)
        return refused('ambiguous-unit', { unit: trimmed });
      const symbol = UNIT_TABLE.get(symbolText!);
      if (!symbol) {
        return refused('unknown-unit', { unit: symbolText!, nearest: nearestUnit(symbolText!) });
      }
      const written = caret ?? (superscript ? [...superscript].map((c) => SUPERSCRIPTS[c]).join('') : '1');
      const exponent = Number(written);
      if (!Number.isInteger(exponent) || exponent === 0 || Math.abs(exponent) > 9) {
        return refused('malformed-unit', { unit: trimmed });
      }
      factors.push({ symbol, exponent: dividing ? -exponent : exponent, spelling: symbolText! });
      expectsFactor = false;
      if (dividing && !inParentheses) dividing = false;
    }
  }
  if (expectsFactor || inParentheses) return refused('malformed-unit', { unit: trimmed });
  const scaled = factors.findIndex((f, i) => isAngle(f) && isLetterOfScale(factors[i + 1]));
  if (scaled >= 0) {
    const [angle, letter] = [factors[scaled]!.spelling, factors[scaled + 1]!.spelling];
    return refused('unknown-unit', { unit: `${angle} ${letter}`, nearest: SCALES[letter] });
  }
  const scale = factors.find((f) => f.symbol.offset !== 0);
  if (scale && (factors.length > 1 || scale.exponent !== 1)) {
    return refused('offset-unit-in-product', { unit: scale.spelling });
  }
  return found(compose(factors));
}

/** A degree of angle; before the letter of a scale of temperature it would make a product that nobody means. */
function isAngle({ spelling, exponent }: Factor): boolean {
  return (spelling === 'deg' || spelling === '°') && exponent === 1;
}

function isLetterOfScale(factor: Factor | undefined): boolean {
  return factor !== undefined && factor.exponent === 1 && /^[CKF]$/.test(factor.spelling);
}

const SCALES: Readonly<Record<string, string>> = { C: 'degC', K: 'K' };

/** The unit of a pure number. */
export const PURE_UNIT: Unit = {
  text: '1',
  tex: '',
  print: '',
  dimension: PURE_NUMBER,
  exponent10: 0,
  multiplier: 1,
  offset: 0,
};

/** Reads a unit that stands in the program's own text; throws where it is wrong. */
export function unit(text: string): Unit {
  const reading = readUnit(text);
  if (!reading.ok) throw new Error(`not a unit: '${text}'`);
  return reading.value;
}

function compose(factors: readonly Factor[]): Unit {
  let dimension = PURE_NUMBER;
  let exponent10 = 0;
  let multiplier = 1;
  for (const { symbol, exponent } of factors) {
    dimension = multiply(dimension, power(symbol.dimension, exponent));
    exponent10 += symbol.exponent10 * exponent;
    multiplier *= symbol.multiplier ** exponent;
  }
  return {
    ...writeForms(factors),
    dimension,
    exponent10,
    multiplier,
    offset: factors.length === 1 ? factors[0]!.symbol.offset : 0,
  };
}

/** How a factor's name and exponent are written, and what stands between factors. */
interface Writing {
  readonly name: (factor: Factor) => string;
  readonly raise: (exponent: number) => string;
  readonly product: string;
}

const AS_TEXT: Writing = { name: (f) => asciiSymbol(f.spelling), raise: (e) => `^${e}`, product: ' ' };
const AS_TEX: Writing = { name: texOf, raise: (e) => `^{${e}}`, product: '\\,' };
const AS_PRINT: Writing = { name: (f) => f.symbol.print, raise: superscript, product: ' ' };

/** The degree is itself raised: braces around it take a power of its own. */
function texOf({ symbol: { tex }, exponent }: Factor): string {
  return tex.startsWith('^') && exponent !== 1 ? `{${tex}}` : tex;
}

/** A reciprocal unit is printed with negative exponents, because '0.004 1/K' is hard to read; as text it keeps its stroke. */
function writeForms(factors: readonly Factor[]): Pick<Unit, 'text' | 'tex' | 'print'> {
  const isReciprocal = factors.every((f) => f.exponent < 0);
  const write = isReciprocal ? writeProduct : writeQuotient;
  return {
    text: writeQuotient(factors, AS_TEXT),
    tex: write(factors, AS_TEX),
    print: write(factors, AS_PRINT),
  };
}

function writeProduct(factors: readonly Factor[], { name, raise, product }: Writing): string {
  return factors.map((f) => name(f) + (f.exponent === 1 ? '' : raise(f.exponent))).join(product);
}

/** Numerator, stroke, denominator: several denominators in parentheses, or behind a stroke each where nothing stands above. */
function writeQuotient(factors: readonly Factor[], writing: Writing): string {
  const above = factors.filter((f) => f.exponent > 0);
  const below = factors.filter((f) => f.exponent < 0).map((f) => ({ ...f, exponent: -f.exponent }));
  if (below.length === 0) return writeProduct(above, writing);
  const denominators = below.map((f) => writeProduct([f], writing));
  if (above.length === 0) return ['1', ...denominators].join('/');
  const numerator = writeProduct(above, writing);
  return denominators.length === 1
    ? `${numerator}/${denominators[0]}`
    : `${numerator}/(${denominators.join(writing.product)})`;
}

function asciiSymbol(symbol: string): string {
  return symbol
    .replace(/[µμ]/, 'u')
    .replace(/[Ω\u2126]/, 'ohm')
    .replace('°C', 'degC')
    .replace('°', 'deg');
}

function superscript(exponent: number): string {
  return [...String(exponent)].map((c) => (c === '-' ? '⁻' : '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(c)])).join('');
}

function nearestUnit(symbol: string): string | undefined {
  const scale = /^(?:°|deg)([CKF])$/.exec(symbol)?.[1];
  if (scale !== undefined) return SCALES[scale];
  const folded = [...UNIT_TABLE.keys()].find((known) => known.toLowerCase() === symbol.toLowerCase());
  return folded ?? nearestName(symbol, UNIT_TABLE.keys());
}
