/** What a sign is (PDF 32000-1, 7.2.2), by its code: whatever is not listed is regular. */
const [SPACE, DELIMITER] = [1, 2];
const KINDS = new Uint8Array(256);
for (const sign of '\0\t\n\f\r ') KINDS[sign.charCodeAt(0)] = SPACE;
for (const sign of '()<>[]{}/%') KINDS[sign.charCodeAt(0)] = DELIMITER;

/** Signs with which numbers begin, and other operands; words are told apart by themselves. */
const [NUMBER, OTHER] = [1, 2];
const BEGINS = new Uint8Array(256);
for (const sign of '-+.0123456789') BEGINS[sign.charCodeAt(0)] = NUMBER;
for (const sign of '/(<[') BEGINS[sign.charCodeAt(0)] = OTHER;
const WORDS = new Set(['true', 'false', 'null']);

const codeOf = (sign: string): number => sign.charCodeAt(0);
const [SLASH, PERCENT, OPEN, CLOSE, LESS, MORE, BRACKET, BACKSLASH] = [...'/%()<>[\\'].map(codeOf) as Eight;
type Eight = [number, number, number, number, number, number, number, number];
const [FEED, RETURN] = [10, 13];
const [MINUS, POINT, ZERO] = [45, 46, 48];

/** A number of so many digits is exact, and so is a power of ten of so many: their quotient is the number as it is read elsewhere. */
const EXACT_DIGITS = 15;
const POWERS = Array.from({ length: EXACT_DIGITS + 1 }, (_, power) => 10 ** power);

/** The number for a command of up to three signs, by which it is known without a text being made of it. */
export function commandCode(name: string): number {
  return [...name].reduce((code, sign) => code * 256 + sign.charCodeAt(0), 0);
}

const BEGIN_IMAGE = commandCode('BI');

/**
 * Goes through the commands of a content stream (PDF 32000-1, 7.8.2) in order; its fields tell of the command at which it stands. An image that
 * stands in the stream itself is one command, `BI`. A long note has a million of them: nothing is made of an operand that nobody asks for.
 */
export class OperatorReader {
  /** The command, as `commandCode` has it; -1 for a longer word, which is none. */
  name = -1;
  /** Where its first operand begins. */
  start = 0;
  end = 0;
  /** How many operands it has. */
  count = 0;
  readonly #bytes: Buffer;
  readonly #starts: number[] = [];
  readonly #ends: number[] = [];
  readonly #values: number[] = [];
  #at: number;

  constructor(bytes: Buffer) {
    this.#bytes = bytes;
    this.#at = skip(bytes, 0);
  }

  /**
   * Goes to the next command; false where there is none.
   *
   * @throws {Error} where a string or a dictionary does not end
   */
  next(): boolean {
    const bytes = this.#bytes;
    let at = this.#at;
    this.start = at;
    this.count = 0;
    while (at < bytes.length) {
      const kind = BEGINS[bytes[at]!]!;
      const end = kind === NUMBER ? this.#takeNumber(at) : endOfToken(bytes, at);
      if (kind === 0 && !isWord(bytes, at, end)) {
        this.name = nameOf(bytes, at, end);
        this.end = this.name === BEGIN_IMAGE ? endOfImage(bytes, end) : end;
        this.#at = skip(bytes, this.end);
        return true;
      }
      if (kind !== NUMBER) this.#take(at, end, Number.NaN);
      at = skip(bytes, end);
    }
    return false;
  }

  /** An operand as a number; NaN where it is none. */
  number(index: number): number {
    return index < this.count ? this.#values[index]! : Number.NaN;
  }

  /** All operands as numbers. */
  numbers(): number[] {
    return this.#values.slice(0, this.count);
  }

  /** An operand as it is written: numbers, names with their slash, strings and dictionaries with their brackets; empty where there is none. */
  text(index: number): string {
    return index >= 0 && index < this.count
      ? this.#bytes.toString('latin1', this.#starts[index], this.#ends[index])
      : '';
  }

  /** The glyph that the last operand shows, where that is one of four hexadecimal digits and nothing else; else -1. */
  glyph(): number {
    const bytes = this.#bytes;
    const [start, end] = [this.#starts[this.count - 1]!, this.#ends[this.count - 1]!];
    if (end - start !== 6 || bytes[start] !== LESS) return -1;
    let glyph = 0;
    for (let at = start + 1; at < end - 1; at += 1) {
      const digit = DIGITS[bytes[at]!]!;
      if (digit < 0) return -1;
      glyph = glyph * 16 + digit;
    }
    return glyph;
  }

  #take(start: number, end: number, value: number): void {
    this.#starts[this.count] = start;
    this.#ends[this.count] = end;
    this.#values[this.count] = value;
    this.count += 1;
  }

  #takeNumber(start: number): number {
    const bytes = this.#bytes;
    const negative = bytes[start] === MINUS;
    let [value, digits, decimals] = [0, 0, 0];
    let isPlain = true;
    let hasPoint = false;
    let end = negative ? start + 1 : start;
    for (; end < bytes.length; end += 1) {
      const code = bytes[end]!;
      const digit = code - ZERO;
      if (digit >= 0 && digit <= 9) {
        value = value * 10 + digit;
        digits += 1;
        if (hasPoint) decimals += 1;
      } else if (code === POINT && !hasPoint) hasPoint = true;
      else if (KINDS[code] !== 0) break;
      else isPlain = false;
    }
    if (!isPlain || digits === 0 || digits > EXACT_DIGITS)
      value = Number(bytes.toString('latin1', start, end));
    else value = (negative ? -value : value) / POWERS[decimals]!;
    this.#take(start, end, value);
    return end;
  }
}

/** The value of a hexadecimal digit, by its code; -1 for any other sign. */
const DIGITS = new Int8Array(256).fill(-1);
for (const [value, sign] of [...'0123456789abcdef'].entries()) {
  DIGITS[sign.charCodeAt(0)] = value;
  DIGITS[sign.toUpperCase().charCodeAt(0)] = value;
}

function isWord(bytes: Buffer, at: number, end: number): boolean {
  return (end - at === 4 || end - at === 5) && WORDS.has(bytes.toString('latin1', at, end));
}

function nameOf(bytes: Buffer, at: number, end: number): number {
  if (end - at > 3) return -1;
  let name = 0;
  for (let i = at; i < end; i += 1) name = name * 256 + bytes[i]!;
  return name;
}

/** Past blanks and comments. */
function skip(bytes: Buffer, at: number): number {
  for (; at < bytes.length; at += 1) {
    const code = bytes[at]!;
    if (code === PERCENT) at = endOfLine(bytes, at) - 1;
    else if (KINDS[code] !== SPACE) return at;
  }
  return at;
}

function endOfLine(bytes: Buffer, at: number): number {
  while (at < bytes.length && bytes[at] !== FEED && bytes[at] !== RETURN) at += 1;
  return at;
}

function endOfToken(bytes: Buffer, at: number): number {
  const code = bytes[at]!;
  if (code === OPEN) return endOfString(bytes, at);
  if (code === BRACKET) return endOfGroup(bytes, at + 1, ']');
  if (code === LESS) return bytes[at + 1] === LESS ? endOfGroup(bytes, at + 2, '>>') : endOfHex(bytes, at);
  let end = code === SLASH ? at + 1 : at;
  while (end < bytes.length && KINDS[bytes[end]!] === 0) end += 1;
  // A slash alone is a name too.
  return end === at ? misplaced(at) : end;
}

function endOfHex(bytes: Buffer, at: number): number {
  for (let end = at + 1; end < bytes.length; end += 1) {
    const code = bytes[end]!;
    if (code === MORE) return end + 1;
    if (DIGITS[code]! < 0 && KINDS[code] !== SPACE) break;
  }
  return misplaced(at);
}

function misplaced(at: number): never {
  return fail(`a sign out of place at byte ${at}`);
}

function endOfGroup(bytes: Buffer, from: number, close: ']' | '>>'): number {
  let at = skip(bytes, from);
  while (at < bytes.length) {
    if (bytes[at] === close.charCodeAt(0) && (close.length === 1 || bytes[at + 1] === MORE))
      return at + close.length;
    at = skip(bytes, endOfToken(bytes, at));
  }
  return fail(`a group that does not end with ${close}`);
}

function endOfString(bytes: Buffer, from: number): number {
  let depth = 0;
  for (let at = from; at < bytes.length; at += 1) {
    const code = bytes[at];
    if (code === BACKSLASH) at += 1;
    else if (code === OPEN) depth += 1;
    else if (code === CLOSE) {
      depth -= 1;
      if (depth === 0) return at + 1;
    }
  }
  return fail('a string that does not end');
}

function endOfImage(bytes: Buffer, from: number): number {
  for (let at = bytes.indexOf('EI', from + 1); at !== -1; at = bytes.indexOf('EI', at + 1)) {
    const end = at + 2;
    if (KINDS[bytes[at - 1]!] === SPACE && (end === bytes.length || KINDS[bytes[end]!] === SPACE)) return end;
  }
  return fail('an image that does not end');
}

function fail(what: string): never {
  throw new Error(`A content stream of the browser holds ${what}.`);
}
