import { type Problem, problem } from '../diagnostics/problem.ts';

const BLANK = ' \\u00a0\\u2009\\u202f';
const SEPARATOR = new RegExp(`[.,'’_${BLANK}]`);
/** The 1 of a reciprocal unit behind a number: `0.1 1/km`. */
const RECIPROCAL = `[${BLANK}]1\\s*/\\s*[A-Za-zµμΩ\\u2126%°(]`;
/** Digits with one separator between runs of them, as numbers are written somewhere in the world. */
const BODY = new RegExp(`^[+\\-−]?\\d+(?:(?!${RECIPROCAL})[.,'’_${BLANK}]\\d+)*`);

const NUMBER = '[+\\-−]?(?:\\d+\\.?\\d*?|\\.\\d+)(?:[eE][+-]?\\d+)?';
const TWO_ENDS = new RegExp(
  `^(${NUMBER})([^\\d]*?)\\s*(?:\\.{2,}|…|–|—|-|\\bto\\b)\\s*(${NUMBER})(?![\\d.])(.*)$`,
);
const TOLERANCE = new RegExp(`^(${NUMBER})([^\\d]*?)\\s*(?:±|\\+/-|\\+-)\\s*(${NUMBER})(?![\\d.])(.*)$`);
const POWER_OF_TEN = new RegExp(`^(?:${NUMBER}\\s*[*x×·⋅]\\s*)?10\\s*(?:\\^|[⁻⁺⁰¹²³⁴-⁹])`);
/** What is longer is none of these ways; the patterns would look for their second number from every digit on. */
const LONGEST_WRITING = 300;
const FRACTION = /^[+\-−]?\d*\s*[¼-¾⅐-⅞]|^[+\-−]?\d+\s+\d+\s*[/⁄]\s*\d|^[+\-−]?\d+⁄\d/u;

/**
 * What separates digits in the number that a text begins with and is not one decimal point, with what to write instead;
 * undefined where there is nothing of the kind. `length` is that of the number.
 */
export function separatorFault(
  text: string,
): { readonly problem: Problem; readonly length: number } | undefined {
  const body = BODY.exec(text)?.[0];
  if (body === undefined) return undefined;
  const separators = [...body].filter((character) => SEPARATOR.test(character));
  if (separators.length === 0 || (separators.length === 1 && separators[0] === '.')) return undefined;
  return { problem: judgeSeparators(text, body, separators), length: body.length };
}

function judgeSeparators(text: string, body: string, separators: readonly string[]): Problem {
  const [head, ...runs] = body.split(SEPARATOR) as [string, ...string[]];
  // A full stop or comma behind the number ended a sentence: what is to be written instead must be readable.
  const rest = text.slice(body.length).replace(/^[.,](?=\s|$)/, '');
  const joined = head + runs.slice(0, -1).join('');
  const whole = `${joined}${runs.at(-1)}${rest}`;
  const decimal = `${joined}.${runs.at(-1)}${rest}`;
  const groups = (count: number): boolean =>
    /^[+\-−]?[1-9]\d{0,2}$/.test(head) && runs.slice(0, count).every((run) => run.length === 3);
  const last = separators.at(-1)!;
  if (new Set(separators).size === 1) {
    if (last === ',' && runs.length === 1) {
      return groups(1)
        ? problem('ambiguous-comma', { text, decimal, whole })
        : problem('decimal-comma', { text, instead: decimal });
    }
    if (groups(runs.length)) return problem('digit-grouping', { text, instead: whole });
    return problem('several-numbers', { text });
  }
  // What remains can be groups with one sign between them, and behind them the sign of the decimals.
  const isDecimal = (last === '.' || last === ',') && separators.indexOf(last) === separators.length - 1;
  if (!isDecimal || new Set(separators).size > 2 || !groups(runs.length - 1)) {
    return problem('several-numbers', { text });
  }
  return last === ','
    ? problem('decimal-comma', { text, instead: decimal })
    : problem('digit-grouping', { text, instead: decimal });
}

/** A comma without a blank between digits where commas also separate: in brackets, and between arguments. */
export function listCommaFault(parts: readonly string[]): Problem {
  const text = parts.join(',');
  const fault = separatorFault(text)?.problem;
  const one =
    fault?.code === 'ambiguous-comma'
      ? [fault.data.decimal, fault.data.whole]
      : fault?.code === 'decimal-comma' || fault?.code === 'digit-grouping'
        ? [fault.data.instead]
        : [];
  return problem('ambiguous-list-comma', { text, one, apart: parts.join(', ') });
}

/** The usual ways of writing more than one number where one is needed, in a text that is no quantity. */
export function otherWriting(text: string): Problem | undefined {
  if (text.length > LONGEST_WRITING) return undefined;
  if (POWER_OF_TEN.test(text)) return problem('power-of-ten', { text });
  if (FRACTION.test(text)) return problem('fraction-in-quantity', { text });
  const tolerance = readTwo(TOLERANCE, text);
  if (tolerance) {
    return problem('tolerance-in-quantity', { text, value: tolerance.first, margin: tolerance.second });
  }
  const range = readTwo(TWO_ENDS, text);
  // `5 mm-1` is a power gone wrong, and no range.
  if (!range || !(Number.parseFloat(range.first) < Number.parseFloat(range.second))) return undefined;
  return problem('range-in-quantity', { text, low: range.first, high: range.second });
}

/** Two numbers; a unit that stands once belongs to both. */
function readTwo(pattern: RegExp, text: string): { first: string; second: string } | undefined {
  const [, first, firstUnit = '', second, secondUnit = ''] = pattern.exec(text) ?? [];
  if (first === undefined || second === undefined) return undefined;
  const join = (number: string, unit: string, other: string) =>
    `${number.replace(/\.$/, '')} ${unit.trim() || other.trim()}`.trim();
  return { first: join(first, firstUnit, secondUnit), second: join(second, secondUnit, firstUnit) };
}
