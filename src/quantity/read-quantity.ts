import { found, type Reading, refused } from '../diagnostics/problem.ts';
import { isPure } from './dimension.ts';
import { type Quantity, quantity } from './quantity.ts';
import { PURE_UNIT, readUnit } from './unit.ts';
import { readVoltageWord, type VoltageKind } from './voltage-kind.ts';

const NUMBER = /^[+\-−]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/;
const PAIR = /^(\S+?)\s*\/\s*([\d.]+)(\s.*|[A-Za-z].*)$/;

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
  if (PAIR.test(trimmed) && /^\s*\/\s*\d/.test(rest)) {
    return refused('pair-where-single', { text: trimmed, first: firstOfPair(trimmed) });
  }
  const { unitText, kind, word } = splitKind(rest);
  const unit = readUnit(unitText);
  if (!unit.ok) {
    const start = trimmed.length - rest.trimStart().length;
    return { ok: false, problem: { ...unit.problem, span: { start, end: start + unitText.length } } };
  }
  if (kind && isPure(unit.value.dimension)) {
    return refused('qualifier-on-non-voltage', { text: trimmed, qualifier: word });
  }
  return found(quantity(value, unitText === '' ? PURE_UNIT : unit.value, kind));
}

/** Reads a pair in one unit: `230/400 V`. */
export function readPair(text: string): Reading<QuantityPair> {
  const match = PAIR.exec(text.trim());
  if (!match) return refused('pair-expected', { text, example: '230/400 V' });
  const first = readQuantity(`${match[1]} ${match[3]!.trim()}`);
  if (!first.ok) return first;
  const second = readQuantity(`${match[2]} ${match[3]!.trim()}`);
  if (!second.ok) return second;
  return found({ first: first.value, second: second.value });
}

function firstOfPair(text: string): string {
  const match = PAIR.exec(text)!;
  return `${match[1]} ${match[3]!.trim()}`;
}

/** The usual ways of writing a number that this program does not read, each with what to write instead. */
function writingFault(text: string, number: string, rest: string): Reading<never> | undefined {
  if (/^,\d{3}(?:,\d{3})*(?!\d)/.test(rest) && !/^,\d{3}\s*$/.test(rest)) {
    return refused('digit-grouping', { text, instead: text.replaceAll(',', '') });
  }
  if (/^,\d/.test(rest)) return refused('decimal-comma', { text, instead: text.replace(',', '.') });
  if (/^[ _'’]\d{3}/.test(rest) || /^_\d/.test(rest)) {
    return refused('digit-grouping', { text, instead: text.replace(/(\d)[ _'’](?=\d)/g, '$1') });
  }
  if (/^[.\d]/.test(rest))
    return refused('not-a-quantity', { text, example: `${Number.parseFloat(number)} m` });
  return undefined;
}

function splitKind(rest: string): { unitText: string; kind?: VoltageKind; word: string } {
  const words = rest.trim().split(/\s+/);
  let kind: VoltageKind | undefined;
  const found: string[] = [];
  while (words.length > 0) {
    const read = readVoltageWord(words.at(-1)!);
    if (!read) break;
    kind = { ...kind, ...read };
    found.unshift(words.pop()!);
  }
  return { unitText: words.join(' '), word: found.join(' '), ...(kind ? { kind } : {}) };
}
