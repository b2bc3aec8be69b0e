import { nearestName } from '../diagnostics/nearest-name.ts';
import { readUnit, type Unit } from '../quantity/unit.ts';
import { UNIT_TABLE } from '../quantity/unit-table.ts';
import { fail, failWith } from './formula-fault.ts';
import { KEYWORDS } from './words.ts';

/** A unit behind a number, and where it ends in the text. */
interface UnitRun {
  readonly unit: Unit;
  readonly end: number;
}

const LETTERS = '[%°]C?|[A-Za-zµμΩ\\u2126]+';
/** A power inside a unit: whole, and not the beginning of a longer number or of an expression. */
const POWER = '(?:\\^-?\\d+(?![\\d.])|⁻?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)?';
const SYMBOL = new RegExp(`(?:${LETTERS})${POWER}`, 'y');
const PRODUCT = new RegExp(`[ \\t]+((?:${LETTERS})${POWER})`, 'y');
const QUOTIENT = new RegExp(`/((?:${LETTERS})${POWER})`, 'y');
const QUOTIENT_OF_PRODUCT = new RegExp(
  `/\\([ \\t]*((?:${LETTERS})${POWER}(?:[ \\t]+(?:${LETTERS})${POWER})*)[ \\t]*\\)`,
  'y',
);
const RECIPROCAL = /1(?=\/[A-Za-zµμΩ\u2126%°(])/y;
const BLANKS = /[ \t]*/y;
/** What makes a word a name or a function and not a unit. */
const CONTINUES_AS_NAME = /[0-9_.(]/y;
const RAISED = /\s*(?:\^|[²³])/y;

/**
 * Reads the unit behind a number: the run of unit symbols, where blanks are products and a `/` belongs to the unit
 * only when no blank surrounds it. Undefined where no word follows. Every word behind a number is its unit: there is
 * no product without a sign, so a name there is a fault and never silently a unit.
 */
export function readUnitRun(text: string, afterNumber: number, number: string): UnitRun | undefined {
  const start = matchEnd(BLANKS, text, afterNumber) ?? afterNumber;
  let end = matchEnd(RECIPROCAL, text, start);
  if (end === undefined) {
    const word = matchText(SYMBOL, text, start);
    if (word === undefined || KEYWORDS.has(word)) return undefined;
    end = start + word.length;
    if (matchEnd(CONTINUES_AS_NAME, text, end) !== undefined) failAsName(text, start, number);
    requireUnit(word, start, number);
  }
  end = extend(text, end, number);
  const reading = readUnit(text.slice(start, end));
  if (!reading.ok) failWith(reading.problem, { start, end });
  if (matchEnd(RAISED, text, end) !== undefined) {
    const literal = text.slice(afterNumber - number.length, end);
    fail('power-of-quantity', { text: literal }, { start: afterNumber - number.length, end });
  }
  return { unit: reading.value, end };
}

/** Takes further symbols as long as they belong to the unit; gives the end of the last. */
function extend(text: string, from: number, number: string): number {
  let end = from;
  while (true) {
    const whole = matchText(QUOTIENT_OF_PRODUCT, text, end);
    const part = whole ?? matchText(QUOTIENT, text, end) ?? matchText(PRODUCT, text, end);
    if (part === undefined || (whole === undefined && !isUnitWord(text, part, end))) return end;
    const length = part.length;
    const start = end + part.search(/[^\s/(]/);
    for (const word of part.slice(start - end).matchAll(new RegExp(LETTERS, 'g'))) {
      requireUnit(word[0], start + word.index, number);
    }
    end += length;
  }
}

/** Whether a further word is written as a unit and not as a keyword, a name or a function. */
function isUnitWord(text: string, part: string, from: number): boolean {
  const word = part.replace(/^[\s/]+/, '');
  if (KEYWORDS.has(word)) return false;
  return matchEnd(CONTINUES_AS_NAME, text, from + part.length) === undefined;
}

function requireUnit(symbol: string, start: number, number: string): void {
  const word = symbol.replace(/[\^⁻⁰¹²³⁴⁵⁶⁷⁸⁹].*$/, '');
  if (UNIT_TABLE.has(word)) return;
  const nearest = word.length > 1 ? nearestName(word, UNIT_TABLE.keys()) : undefined;
  fail('not-a-unit-after-number', { number, word, nearest }, { start, end: start + word.length });
}

function failAsName(text: string, start: number, number: string): never {
  const right = /^[A-Za-z0-9_.µμΩ\u2126]+/.exec(text.slice(start))?.[0] ?? text.slice(start, start + 1);
  const end = start + right.length;
  const shown = text[end] === '(' ? `${right}(...)` : right;
  fail('missing-operator', { left: number, right: shown }, { start, end });
}

function matchEnd(pattern: RegExp, text: string, position: number): number | undefined {
  pattern.lastIndex = position;
  return pattern.test(text) ? pattern.lastIndex : undefined;
}

function matchText(pattern: RegExp, text: string, position: number): string | undefined {
  pattern.lastIndex = position;
  return pattern.exec(text)?.[0];
}
