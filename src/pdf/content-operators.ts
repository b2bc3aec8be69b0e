/** One command of a content stream (PDF 32000-1, 7.8.2), with where it stands in its text. */
export interface ContentOperator {
  readonly name: string;
  /** As they are written: numbers, names with their slash, strings and dictionaries with their brackets. */
  readonly operands: readonly string[];
  /** Where its first operand begins. */
  readonly start: number;
  readonly end: number;
}

const SPACE = /(?:[\0\t\n\f\r ]|%[^\r\n]*)+/y;
const PLAIN = /\/?[^\0\t\n\f\r ()<>[\]{}/%]+|\//y;
const HEX = /<[0-9A-Fa-f\0\t\n\f\r ]*>/y;
const INLINE_IMAGE = /[\s\S]*?[\0\t\n\f\r ]EI(?=[\0\t\n\f\r ]|$)/y;

/**
 * The commands of a content stream in order. An image that stands in the stream itself is one command, `BI`.
 *
 * @param text one character a byte
 * @throws {Error} where a string or a dictionary does not end
 */
export function* readOperators(text: string): Generator<ContentOperator> {
  let operands: string[] = [];
  let start: number | undefined;
  let at = skip(text, 0);
  while (at < text.length) {
    const from = at;
    const end = endOfToken(text, at);
    start ??= from;
    const token = text.slice(from, end);
    at = end;
    if (isOperand(token)) operands.push(token);
    else {
      if (token === 'BI') at = match(INLINE_IMAGE, text, at) ?? fail('an image that does not end');
      yield { name: token, operands, start, end: at };
      operands = [];
      start = undefined;
    }
    at = skip(text, at);
  }
}

function isOperand(token: string): boolean {
  return '-+.0123456789/(<['.includes(token[0]!) || token === 'true' || token === 'false' || token === 'null';
}

function skip(text: string, at: number): number {
  return match(SPACE, text, at) ?? at;
}

function endOfToken(text: string, at: number): number {
  if (text[at] === '(') return endOfString(text, at);
  if (text.startsWith('<<', at)) return endOfGroup(text, at + 2, '>>');
  if (text[at] === '[') return endOfGroup(text, at + 1, ']');
  return match(text[at] === '<' ? HEX : PLAIN, text, at) ?? fail(`a sign out of place at byte ${at}`);
}

function endOfGroup(text: string, from: number, close: string): number {
  let at = skip(text, from);
  while (at < text.length) {
    if (text.startsWith(close, at)) return at + close.length;
    at = skip(text, endOfToken(text, at));
  }
  return fail(`a group that does not end with ${close}`);
}

function endOfString(text: string, from: number): number {
  let depth = 0;
  for (let at = from; at < text.length; at += 1) {
    if (text[at] === '\\') at += 1;
    else if (text[at] === '(') depth += 1;
    else if (text[at] === ')') {
      depth -= 1;
      if (depth === 0) return at + 1;
    }
  }
  return fail('a string that does not end');
}

function match(pattern: RegExp, text: string, at: number): number | undefined {
  pattern.lastIndex = at;
  return pattern.test(text) ? pattern.lastIndex : undefined;
}

function fail(what: string): never {
  throw new Error(`A content stream of the browser holds ${what}.`);
}
