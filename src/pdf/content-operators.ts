/** One command of a content stream (PDF 32000-1, 7.8.2), with where it stands in its text. */
export interface ContentOperator {
  readonly name: string;
  /** As they are written: numbers, names with their slash, strings and dictionaries with their brackets. */
  readonly operands: readonly string[];
  /** Where its first operand begins. */
  readonly start: number;
  readonly end: number;
}

const INLINE_IMAGE = /[\s\S]*?[\0\t\n\f\r ]EI(?=[\0\t\n\f\r ]|$)/y;

/** What a sign is (PDF 32000-1, 7.2.2), by its code: whatever is not listed is regular. */
const [SPACE, DELIMITER] = [1, 2];
const KINDS = new Uint8Array(256);
for (const sign of '\0\t\n\f\r ') KINDS[sign.charCodeAt(0)] = SPACE;
for (const sign of '()<>[]{}/%') KINDS[sign.charCodeAt(0)] = DELIMITER;

/** Signs with which operands begin; words are told apart by themselves. */
const BEGINS_OPERAND = new Uint8Array(256);
for (const sign of '-+.0123456789/(<[') BEGINS_OPERAND[sign.charCodeAt(0)] = 1;

const codeOf = (sign: string): number => sign.charCodeAt(0);
const [SLASH, PERCENT, OPEN, LESS, MORE, BRACKET] = [...'/%(<>['].map(codeOf) as Six;
type Six = [number, number, number, number, number, number];
const [FEED, RETURN] = [10, 13];

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
  return (
    BEGINS_OPERAND[token.charCodeAt(0)] === 1 || token === 'true' || token === 'false' || token === 'null'
  );
}

/** Past blanks and comments. */
function skip(text: string, at: number): number {
  for (; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code === PERCENT) at = endOfLine(text, at) - 1;
    else if (KINDS[code] !== SPACE) return at;
  }
  return at;
}

function endOfLine(text: string, at: number): number {
  while (at < text.length && text.charCodeAt(at) !== FEED && text.charCodeAt(at) !== RETURN) at += 1;
  return at;
}

function endOfToken(text: string, at: number): number {
  const code = text.charCodeAt(at);
  if (code === OPEN) return endOfString(text, at);
  if (code === BRACKET) return endOfGroup(text, at + 1, ']');
  if (code === LESS)
    return text.charCodeAt(at + 1) === LESS ? endOfGroup(text, at + 2, '>>') : endOfHex(text, at);
  const from = code === SLASH ? at + 1 : at;
  let end = from;
  while (end < text.length && KINDS[text.charCodeAt(end)] === 0) end += 1;
  // A slash alone is a name too.
  return end === at ? misplaced(at) : end;
}

function endOfHex(text: string, at: number): number {
  for (let end = at + 1; end < text.length; end += 1) {
    const code = text.charCodeAt(end);
    if (code === MORE) return end + 1;
    if (!isHexDigit(code) && KINDS[code] !== SPACE) break;
  }
  return misplaced(at);
}

function isHexDigit(code: number): boolean {
  return (code >= 48 && code <= 57) || (code >= 65 && code <= 70) || (code >= 97 && code <= 102);
}

function misplaced(at: number): never {
  return fail(`a sign out of place at byte ${at}`);
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
