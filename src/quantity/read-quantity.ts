import { found, type Reading, refused } from '../diagnostics/problem.ts';
import { otherWriting, separatorFault } from './number-fault.ts';
import { isWithinNumbers, type Quantity, quantity } from './quantity.ts';
import { PURE_UNIT, readUnit } from './unit.ts';
import { hasKind, readVoltageWord, type VoltageKind } from './voltage-kind.ts';

const NUMBER = /^[+\-−]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/;
/** Two numbers with a stroke between them, and what follows. */
const PAIR = /^([+\-−]?[\d.]+(?:[eE][+-]?\d+)?)\s*\/\s*([\d.]+(?:[eE][+-]?\d+)?)(.*)$/s;

/** White space that is hardly seen, or not at all: with the mark of byte order in it, 7 1/m looks like 71/m. */
const STRANGE_BLANK = /[^\S \t\r\n\u00a0\u2009\u202f]/;

/**
 * Reads one quantity: `7.5 m`, `10 kA/us`, `20 %`, a bare `0.66`, `36 kV rms phase-phase`.
 * A number without a unit is a pure number; whether one is wanted is for the caller to judge.
 */
export function readQuantity(text: string): Reading<Quantity> {
  const trimmed = text.trim();
  if (STRANGE_BLANK.test(trimmed)) return refused('not-a-quantity', { text, example: '7.5 m' });
  const separated = separatorFault(trimmed)?.problem;
  if (separated && separated.code !== 'several-numbers') return { ok: false, problem: separated };
  const reading: Reading<Quantity> = separated ? { ok: false, problem: separated } : readWritten(trimmed);
  if (reading.ok || reading.problem.code === 'number-out-of-range') return reading;
  const problem = otherWriting(trimmed);
  return problem ? { ok: false, problem } : reading;
}

function readWritten(text: string): Reading<Quantity> {
  const number = NUMBER.exec(text)?.[0];
  if (number === undefined) return refused('not-a-quantity', { text, example: '7.5 m' });
  const rest = text.slice(number.length);
  if (/^,\s*\d/.test(rest)) return refused('several-numbers', { text });
  // No unit begins with a sign that separates: what stands there was meant as digits.
  if (/^[.\d,;'’_]/.test(rest)) return refused('not-a-quantity', { text, example: '7.5 m' });
  const value = Number(number.replace('−', '-'));
  if (!isComputable(value, number)) return refused('number-out-of-range', { text });
  const pair = PAIR.exec(text);
  if (pair) {
    const [first, second] = [joinUnit(pair[1]!, pair[3]!), joinUnit(pair[2]!, pair[3]!)];
    return refused('pair-where-single', { text, first, second });
  }
  return readUnitAndKind(text, value, rest);
}

const LEAST_NORMAL = 2.2250738585072014e-308;

/** Whether the number that stands for a text is the one that was written: neither infinite nor lost near zero. */
export function isComputable(value: number, text: string): boolean {
  if (value === 0) return !/[1-9]/.test(text.replace(/[eE].*$/, ''));
  return Number.isFinite(value) && Math.abs(value) >= LEAST_NORMAL;
}

function readUnitAndKind(text: string, value: number, rest: string): Reading<Quantity> {
  const split = splitKind(rest);
  if (split.contradiction) return refused('contradicting-qualifiers', { text, ...split.contradiction });
  const { unitText, kind, word } = split;
  // The unit of a pure number is not written: a 1 is the second of two numbers, whatever stands between them.
  if (unitText === '1') return refused('several-numbers', { text });
  const unit = readUnit(unitText);
  if (!unit.ok) {
    const start = text.length - rest.trimStart().length;
    return { ok: false, problem: { ...unit.problem, span: { start, end: start + unitText.length } } };
  }
  const { dimension } = unit.value;
  if (kind && !hasKind(dimension)) {
    return refused('qualifier-on-non-voltage', { text, qualifier: word });
  }
  const places = placesIn(text);
  const read = {
    ...quantity(value, unitText === '' ? PURE_UNIT : unit.value, kind),
    ...(places === undefined ? {} : { places }),
  };
  const kept =
    isWithinNumbers(read.si, read.unit) &&
    (value === 0 || unit.value.offset !== 0 || isComputable(read.si, '1'));
  return kept ? found(read) : refused('number-out-of-range', { text });
}

/** What a number has behind its point, where that ends with a nought and no power of ten follows. */
function placesIn(text: string): number | undefined {
  const [, behind] = /^[+\-−]?\d*\.(\d*0)(?![\deE])/.exec(text) ?? [];
  return behind?.length;
}

function joinUnit(number: string, rest: string): string {
  return `${number} ${rest.trim()}`.trim();
}

/**
 * Reads a unit with the kind that values in it have: `kV`, `kV rms phase-phase`. What is wrong with the unit itself is for its
 * reader to say.
 */
export function readUnitWithKind(
  text: string,
): Reading<{ readonly unit: string; readonly kind?: VoltageKind }> {
  const { unitText, kind, word, contradiction } = splitKind(text);
  if (contradiction) return refused('contradicting-qualifiers', { text, ...contradiction });
  const unit = readUnit(unitText);
  if (kind && unit.ok && !hasKind(unit.value.dimension)) {
    return refused('qualifier-on-non-voltage', { text, qualifier: word });
  }
  return found({ unit: unitText, ...(kind ? { kind } : {}) });
}

interface SplitKind {
  readonly unitText: string;
  readonly kind?: VoltageKind;
  /** The words of the kind, as written. */
  readonly word: string;
  readonly contradiction?: { readonly first: string; readonly second: string };
}

/** Parts the unit from the words on how a voltage is measured, which stand last. */
function splitKind(rest: string): SplitKind {
  const words = rest.trim().split(/\s+/);
  const written: string[] = [];
  while (words.length > 0 && readVoltageWord(words.at(-1)!)) written.unshift(words.pop()!);
  const unitText = words.join(' ');
  let kind: VoltageKind | undefined;
  for (const word of written) {
    const read = readVoltageWord(word)!;
    const aspect = Object.keys(read)[0] as keyof VoltageKind;
    if (kind?.[aspect] !== undefined) {
      const first = written.find((w) => readVoltageWord(w)![aspect] !== undefined)!;
      return { unitText, word: written.join(' '), contradiction: { first, second: word } };
    }
    kind = { ...kind, ...read };
  }
  return { unitText, word: written.join(' '), ...(kind ? { kind } : {}) };
}
