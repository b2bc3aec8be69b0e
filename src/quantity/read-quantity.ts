import { found, type Reading, refused } from '../diagnostics/problem.ts';
import { type Dimension, sameDimension } from './dimension.ts';
import { type Quantity, quantity } from './quantity.ts';
import { PURE_UNIT, readUnit } from './unit.ts';
import { readVoltageWord, type VoltageKind } from './voltage-kind.ts';

const NUMBER = /^[+\-−]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/;
/** Two numbers with a stroke between them, and what follows. */
const PAIR = /^([+\-−]?[\d.]+(?:[eE][+-]?\d+)?)\s*\/\s*([\d.]+(?:[eE][+-]?\d+)?)(.*)$/;
const VOLTAGE: Dimension = [2, 1, -3, -1, 0];
const CURRENT: Dimension = [0, 0, 0, 1, 0];

/** A pair of values in one unit, such as the nominal voltages 230/400 V. */
export interface QuantityPair {
  readonly first: Quantity;
  readonly second: Quantity;
}

/**
 * Reads one quantity: `7.5 m`, `10 kA/us`, `20 %`, a bare `0.66`, `36 kV rms phase-phase`.
 * A number without a unit is a pure number; whether one is wanted is for the caller to judge.
 */
export function readQuantity(text: string): Reading<Quantity> {
  const trimmed = text.trim();
  const number = NUMBER.exec(trimmed)?.[0];
  if (number === undefined) return refused('not-a-quantity', { text: trimmed, example: '7.5 m' });
  const rest = trimmed.slice(number.length);
  const fault = writingFault(trimmed, number, rest);
  if (fault) return fault;
  const value = Number(number.replace('−', '-'));
  if (!Number.isFinite(value)) return refused('number-out-of-range', { text: trimmed });
  const pair = PAIR.exec(trimmed);
  if (pair) return refused('pair-where-single', { text: trimmed, first: joinUnit(pair[1]!, pair[3]!) });
  return readUnitAndKind(trimmed, value, rest);
}

function readUnitAndKind(text: string, value: number, rest: string): Reading<Quantity> {
  const split = splitKind(rest);
  if (split.contradiction) return refused('contradicting-qualifiers', { text, ...split.contradiction });
  const { unitText, kind, word } = split;
  const unit = readUnit(unitText);
  if (!unit.ok) {
    const start = text.length - rest.trimStart().length;
    return { ok: false, problem: { ...unit.problem, span: { start, end: start + unitText.length } } };
  }
  const { dimension } = unit.value;
  if (kind && !sameDimension(dimension, VOLTAGE) && !sameDimension(dimension, CURRENT)) {
    return refused('qualifier-on-non-voltage', { text, qualifier: word });
  }
  const read = quantity(value, unitText === '' ? PURE_UNIT : unit.value, kind);
  return Number.isFinite(read.si) ? found(read) : refused('number-out-of-range', { text });
}

/** Reads a pair in one unit: `230/400 V`. */
export function readPair(text: string): Reading<QuantityPair> {
  const trimmed = text.trim();
  const match = PAIR.exec(trimmed);
  if (!match) return refused('pair-expected', { text: trimmed, example: '230/400 V' });
  const first = readQuantity(joinUnit(match[1]!, match[3]!));
  if (!first.ok) return first;
  const second = readQuantity(joinUnit(match[2]!, match[3]!));
  if (!second.ok) return second;
  return found({ first: first.value, second: second.value });
}

function joinUnit(number: string, rest: string): string {
  return `${number} ${rest.trim()}`.trim();
}

/** The usual ways of writing a number that this program does not read, each with what to write instead. */
function writingFault(text: string, number: string, rest: string): Reading<never> | undefined {
  if (/^,\d/.test(rest)) return commaFault(text, number, rest);
  if (/^[ _'’\u00a0\u2009\u202f]\d{3}(?!\d)/.test(rest) || /^_\d/.test(rest)) {
    const instead = text.replace(/(\d)[ _'’\u00a0\u2009\u202f](?=\d)/g, '$1');
    return refused('digit-grouping', { text, instead });
  }
  if (/^[.\d]/.test(rest))
    return refused('not-a-quantity', { text, example: `${Number.parseFloat(number)} m` });
  return undefined;
}

/** A comma is a decimal sign, or it groups digits; where it can be either, both readings are offered. */
function commaFault(text: string, number: string, rest: string): Reading<never> {
  const afterComma = /^,(\d+)(.*)$/s.exec(rest)!;
  const pointBefore = number.includes('.');
  const groups = /^(?:,\d{3})+(?!\d)/.exec(rest)?.[0];
  const certainlyGroups =
    groups !== undefined && !pointBefore && (groups.length > 4 || rest[groups.length] === '.');
  if (certainlyGroups) return refused('digit-grouping', { text, instead: text.replaceAll(',', '') });
  if (pointBefore && !/^[+\-−]?\d{1,3}(?:\.\d{3})+$/.test(number)) {
    return refused('not-a-quantity', { text, example: '7.5 m' });
  }
  const decimal = `${number.replaceAll('.', '')}.${afterComma[1]}${afterComma[2]}`;
  const couldGroup = groups !== undefined && !pointBefore && /^[+\-−]?[1-9]\d{0,2}$/.test(number);
  if (couldGroup) return refused('ambiguous-comma', { text, decimal, whole: text.replace(',', '') });
  return refused('decimal-comma', { text, instead: decimal });
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
