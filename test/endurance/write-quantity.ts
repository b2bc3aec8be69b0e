import type { Random } from './random.ts';

/**
 * A quantity with its value, and a text that a person reads as it. Numbers and units are put together here from the definitions of the SI
 * brochure (BIPM, 9th edition, tables 2 to 8) and nothing of the program's own.
 */
export interface WrittenQuantity {
  readonly text: string;
  /** In SI units: the digits with the power of ten of number and unit together, times what is no power of ten. */
  readonly si: number;
  /** Exponents of metre, kilogram, second, ampere, kelvin. */
  readonly dimension: readonly number[];
}

interface WrittenUnit {
  readonly text: string;
  readonly exponent10: number;
  readonly multiplier: number;
  readonly offset: number;
  readonly dimension: readonly number[];
}

type Base = readonly [
  spellings: readonly string[],
  dimension: readonly number[],
  exponent10?: number,
  multiplier?: number,
];

const PREFIXES: readonly (readonly [readonly string[], number])[] = [
  [['n'], -9],
  [['u', '\u00b5', '\u03bc'], -6],
  [['m'], -3],
  [['k'], 3],
  [['M'], 6],
  [['G'], 9],
];

/** Units with names of their own that take prefixes; the gram counts from the kilogram. */
const PREFIXED: readonly Base[] = [
  [['m'], [1, 0, 0, 0, 0]],
  [['g'], [0, 1, 0, 0, 0], -3],
  [['s'], [0, 0, 1, 0, 0]],
  [['A'], [0, 0, 0, 1, 0]],
  [['K'], [0, 0, 0, 0, 1]],
  [['C'], [0, 0, 1, 1, 0]],
  [['V'], [2, 1, -3, -1, 0]],
  [
    ['ohm', '\u03a9', '\u2126'],
    [2, 1, -3, -2, 0],
  ],
  [['S'], [-2, -1, 3, 2, 0]],
  [['H'], [2, 1, -2, -2, 0]],
  [['F'], [-2, -1, 4, 2, 0]],
  [['J'], [2, 1, -2, 0, 0]],
  [['W'], [2, 1, -3, 0, 0]],
  [['VA'], [2, 1, -3, 0, 0]],
  [['N'], [1, 1, -2, 0, 0]],
  [['Pa'], [-1, 1, -2, 0, 0]],
  [['Hz'], [0, 0, -1, 0, 0]],
  [['T'], [0, 1, -2, -1, 0]],
];

const PLAIN: readonly Base[] = [
  [['%'], [0, 0, 0, 0, 0], -2],
  [['rad'], [0, 0, 0, 0, 0]],
  [['deg', '°'], [0, 0, 0, 0, 0], 0, Math.PI / 180],
  [['cm'], [1, 0, 0, 0, 0], -2],
  [['pF'], [-2, -1, 4, 2, 0], -12],
  [['ft'], [1, 0, 0, 0, 0], 0, 0.3048],
  [['in'], [1, 0, 0, 0, 0], 0, 0.0254],
  [['min'], [0, 0, 1, 0, 0], 0, 60],
  [['h'], [0, 0, 1, 0, 0], 0, 3600],
  [['d'], [0, 0, 1, 0, 0], 0, 86_400],
  // A year of 365 days is said in the handbook; the brochure knows none.
  [['year'], [0, 0, 1, 0, 0], 0, 31_536_000],
];

const SUPERSCRIPT = '⁰¹²³⁴⁵⁶⁷⁸⁹';

function writeBase(random: Random): WrittenUnit {
  if (random.chance(0.25)) {
    const [spellings, dimension, exponent10 = 0, multiplier = 1] = random.pick(PLAIN);
    return { text: random.pick(spellings), exponent10, multiplier, offset: 0, dimension };
  }
  const [spellings, dimension, exponent10 = 0] = random.pick(PREFIXED);
  const [prefixes, power] = random.chance(0.6) ? random.pick(PREFIXES) : [[''], 0];
  const text = random.pick(prefixes) + random.pick(spellings);
  return { text, exponent10: exponent10 + power, multiplier: 1, offset: 0, dimension };
}

function raise(unit: WrittenUnit, exponent: number, text: string): WrittenUnit {
  return {
    text,
    exponent10: unit.exponent10 * exponent,
    multiplier: unit.multiplier ** exponent,
    offset: exponent === 1 ? unit.offset : 0,
    dimension: unit.dimension.map((one) => one * exponent),
  };
}

function multiply(a: WrittenUnit, b: WrittenUnit, text: string): WrittenUnit {
  return {
    text,
    exponent10: a.exponent10 + b.exponent10,
    multiplier: a.multiplier * b.multiplier,
    offset: 0,
    dimension: a.dimension.map((one, i) => one + b.dimension[i]!),
  };
}

/** Numbers, and temperatures in degrees, apart: a unit that may be raised and stand in a quotient. */
function writeFactor(random: Random): WrittenUnit {
  const unit = writeBase(random);
  if (!random.chance(0.25)) return unit;
  const exponent = random.between(2, 3);
  const written = random.chance(0.5) ? `^${exponent}` : SUPERSCRIPT[exponent]!;
  return raise(unit, exponent, unit.text + written);
}

const CELSIUS: WrittenUnit = {
  text: 'degC',
  exponent10: 0,
  multiplier: 1,
  offset: 273.15,
  dimension: [0, 0, 0, 0, 1],
};

/** A degree before the letter of a scale of temperature would be read as that scale. */
const AMBIGUOUS = /(?:deg|°)[\s·*]*[CKF](?![A-Za-z])/;

function writeUnit(random: Random): WrittenUnit {
  for (;;) {
    const unit = drawUnit(random);
    if (!AMBIGUOUS.test(unit.text)) return unit;
  }
}

function drawUnit(random: Random): WrittenUnit {
  const kind = random.below(20);
  if (kind === 0) return { ...CELSIUS, text: random.pick(['degC', '°C']) };
  if (kind < 11) return writeFactor(random);
  const [first, second] = [writeFactor(random), writeFactor(random)];
  const times = random.pick([' ', '*', '·', ' * ', ' · ']);
  if (kind < 13) return multiply(first, second, first.text + times + second.text);
  const over = random.pick(['/', ' / ', '/ ']);
  if (kind < 17) return multiply(first, raise(second, -1, second.text), `${first.text}${over}${second.text}`);
  if (kind < 18) return raise(second, -1, `1${over}${second.text}`);
  const third = writeFactor(random);
  const below = multiply(second, third, second.text + times + third.text);
  if (kind < 19) return multiply(first, raise(below, -1, ''), `${first.text}${over}(${below.text})`);
  return multiply(first, raise(below, -1, ''), `${first.text}${over}${second.text}${over}${third.text}`);
}

/** The digits of a number and the power of ten of the last of them. */
interface WrittenNumber {
  readonly text: string;
  readonly sign: '' | '-';
  readonly digits: string;
  readonly exponent10: number;
}

function writeNumber(random: Random): WrittenNumber {
  const whole = random.pick([
    '',
    '0',
    '00',
    String(random.between(1, 9)),
    String(random.between(10, 999_999)),
  ]);
  const length = random.pick([0, 0, 1, 1, 2, 3, 6, 17]);
  const part = Array.from({ length: whole === '' ? Math.max(1, length) : length }, () =>
    random.below(10),
  ).join('');
  const point = part === '' ? random.pick(['', '', '', '.']) : '.';
  const power = random.chance(0.25) ? random.between(-18, 18) : undefined;
  const sign = random.pick(['', '', '', '+', '-', '\u2212']);
  const plus = power !== undefined && power >= 0 && random.chance(0.5) ? '+' : '';
  const exponent = power === undefined ? '' : `${random.pick(['e', 'E'])}${plus}${power}`;
  return {
    text: `${sign}${whole}${point}${part}${exponent}`,
    sign: sign === '-' || sign === '\u2212' ? '-' : '',
    digits: `${whole}${part}`,
    exponent10: (power ?? 0) - part.length,
  };
}

/** A quantity in one of the spellings that are read. */
export function writeQuantity(random: Random): WrittenQuantity {
  const number = writeNumber(random);
  if (random.chance(0.06)) return { text: number.text, si: nearestTo(number, 0), dimension: [0, 0, 0, 0, 0] };
  const unit = writeUnit(random);
  // A unit that begins with a digit needs a blank, or the digit belongs to the number.
  const blanks = /^\d/.test(unit.text) ? [' '] : ['', ' ', ' ', ' ', '\u00a0', '\u2009', '\u202f', '  '];
  const around = random.pick(['', '', '', ' ']);
  return {
    text: `${around}${number.text}${random.pick(blanks)}${unit.text}${around}`,
    si: nearestTo(number, unit.exponent10) * unit.multiplier + unit.offset,
    dimension: unit.dimension,
  };
}

/** The double nearest to the number that is written. */
function nearestTo({ sign, digits, exponent10 }: WrittenNumber, shift: number): number {
  return Number(`${sign}${digits}e${exponent10 + shift}`);
}

/** Ways of writing numbers that are read differently in different places, or not at all: each must be refused. */
const OTHER_WRITINGS: readonly ((random: Random) => string)[] = [
  (r) => `${r.between(0, 999)},${r.between(0, 9)} m`,
  (r) => `${r.between(1, 999)},${digits(r, 3)} m`,
  (r) => `${r.between(1, 99)}${r.pick([' ', '\u00a0', '\u2009', '\u202f', "'", '’', '_'])}${digits(r, 3)} m`,
  (r) => `${r.between(1, 99)}${r.pick(['.', ','])}${digits(r, 3)}${r.pick(['.', ','])}${digits(r, 3)} m`,
  (r) =>
    `${r.between(1, 9)}${r.pick(['..', '...', '…', ' – ', '–', '—', ' to ', '-', ' - ', '~', '/', ' or ', ' and ', ';', ':'])}${r.between(10, 99)} m`,
  (r) => `${r.between(1, 9)} m ${r.pick(['..', 'to', '–', '-', '/', 'and', '+'])} ${r.between(10, 99)} m`,
  (r) => `${r.between(1, 99)} ${r.pick(['±', '+/-', '+-'])} ${r.between(1, 9)} m`,
  (r) =>
    `${r.between(1, 9)} ${r.pick(['x', '×', '*', '·', ''])} 10${r.pick(['^', '⁻', '**', ' '])}${r.between(2, 6)} m`,
  (r) => `${r.between(1, 9)} ${r.pick(['x', '×', '*', '·'])} 10${r.pick(['²', '³', '⁶'])} m`,
  (r) => `${r.pick(['', '1', '1 ', '2'])}${r.pick(['½', '¼', '¾', '⅓', '⅛'])} m`,
  (r) => `${r.pick(['', '3 '])}${r.between(1, 9)}${r.pick(['/', '⁄', ' / '])}${r.between(2, 9)} m`,
  (r) =>
    `${r.pick(['<', '>', '≤', '≥', '~', '≈', 'ca. ', 'about ', 'approx ', 'max ', '=', '$', '#', '(', '+-', '--', '+ ', '- '])}${r.between(1, 99)} m`,
  (r) =>
    `${r.between(1, 99)} m${r.pick(['?', '!', ' (measured)', ' approx', ' +', ' -', ' *', '.', ',', ';', ' 5', '5', ' each', '^', '^2.5', '^1/2', '²⁵', '^²', '/', '//s', '/s m', '/(s', '/s)'])}`,
  (r) => `0${r.pick(['x', 'b', 'o', 'X'])}${r.between(1, 77)} m`,
  (r) =>
    `${r.pick(['NaN', 'nan', '.nan', 'Infinity', '-Infinity', 'inf', '.inf', '∞', 'null', 'none', 'one', 'I', 'l', 'O', 'II'])} m`,
  (r) => `${r.between(1, 9)}e${r.pick(['', '+', '-', '400', '1.5', '3e2', ' 3', '+ 3'])} m`,
  (r) => `${r.between(1, 9)}e-${r.between(320, 999)} m`,
  (r) =>
    `${[...String(r.between(10, 99))].map((c) => String.fromCodePoint(Number(c) + r.pick([0x660, 0x6f0, 0x966, 0xff10, 0x1d7ce, 0x1d7d8]))).join('')} m`,
  (r) =>
    `${r.between(1, 9)}${r.pick(['\u0661', '\u06f1', '\uff11', 'O', 'o', 'l', 'I', '\u00b2', '\u2082', '\u2460'])} m`,
  (r) => `${r.between(1, 9)}${r.pick(INVISIBLE)}${r.between(0, 9)} m`,
  (r) => `${r.between(1, 9)}${r.pick(INVISIBLE)}1/m`,
  (r) => `${r.between(1, 9)}.${r.pick(INVISIBLE)}${r.between(0, 9)} m`,
  (r) =>
    `${r.between(1, 9)} ${r.pick(['\u043am', 'k\u043c', '\u041aV', '\u212aV', 'KV', 'kv', 'Kv', 'KA', 'ka', 'Ms\u0435c', 'k\u200bV', 'k\u00adV', 'kV\u0308', 'k V', 'kkV', 'µkV', 'sec', 'amps', 'Volt', 'm.', 'M', 'mtr', "'", '"', 'inch', 'dm', 'hV', 'daN', 'TV', 'mV/', 'bar', 'l', 'L', 'F°', '°F', 'degF', '° C', 'deg K', '‰', 'ppm', 'mΩhm', 'Q', 'B', 'kWh/'])}`,
  (r) =>
    `${r.between(1, 9)} kV ${r.pick(['RMS', 'Peak', 'pk', 'eff', 'phase to phase', 'rms rms', 'rms peak', 'peak phase-earth phase-phase', 'L-N', 'p-p', 'dc', 'rms.', 'line-line'])}`,
  (r) => `${r.between(1, 9)} m ${r.pick(['rms', 'peak', 'phase-phase'])}`,
  (r) => `${r.between(1, 9)} m ${r.between(1, 9)} cm`,
  (r) => `${r.between(1, 9)}${r.pick(['m', 'k', 'M', 'u', 'R', 'V'])}${r.between(1, 9)}`,
  (r) => `${r.between(1, 9)}\u0305 m`,
  (r) => `${r.between(1, 9)}\u20e3 m`,
];

/** Characters that take no room, or turn round what stands behind them. */
const INVISIBLE = [
  '\u200b',
  '\u200c',
  '\u200d',
  '\u2060',
  '\ufeff',
  '\u00ad',
  '\u202e',
  '\u2066',
  '\u180e',
  '\u061c',
];

function digits(random: Random, count: number): string {
  return Array.from({ length: count }, () => random.below(10)).join('');
}

/** A text that somebody may mean as a number and that no two people need read alike. */
export function writeUnreadable(random: Random): string {
  return random.pick(OTHER_WRITINGS)(random);
}
