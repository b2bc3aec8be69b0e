/** A value as it stands in a PDF (PDF 32000-1, 7.3). Strings are of no interest here: only where they end. */
export type PdfValue =
  | number
  | { readonly kind: 'name' | 'word'; readonly text: string }
  | { readonly kind: 'reference'; readonly number: number; readonly generation: number }
  | { readonly kind: 'string' }
  | { readonly kind: 'list'; readonly items: readonly PdfValue[] }
  | { readonly kind: 'dictionary'; readonly entries: ReadonlyMap<string, PdfValue> };

export type PdfDictionary = Extract<PdfValue, { kind: 'dictionary' }>;

/** Something in a PDF is not as the format has it, or could be read in two ways. */
export class StructureFault extends Error {}

const SPACE = new Set([0x00, 0x09, 0x0a, 0x0c, 0x0d, 0x20]);
const DELIMITERS = new Set(Buffer.from('()<>[]{}/%'));
const DEEPEST = 200;

/**
 * Reads one value after the other. It knows what a reader of PDFs that goes by the format does, and repairs nothing.
 */
export class ValueParser {
  readonly #file: Buffer;
  at: number;

  constructor(file: Buffer, at: number) {
    this.#file = file;
    this.at = at;
  }

  /** Passes white space and comments. */
  skipSpace(): void {
    for (; this.at < this.#file.length; this.at += 1) {
      const byte = this.#file[this.at]!;
      if (byte === 0x25) {
        while (this.at + 1 < this.#file.length && !isLineEnd(this.#file[this.at + 1]!)) this.at += 1;
      } else if (!SPACE.has(byte)) return;
    }
  }

  /** Passes a word such as 'obj'. @throws {StructureFault} where another stands there */
  expect(word: string): void {
    if (!this.has(word)) throw new StructureFault(`'${word}' is missing at byte ${this.at}`);
  }

  /** Passes a word where it stands here. */
  has(word: string): boolean {
    this.skipSpace();
    const end = this.at + word.length;
    const isIt =
      this.#file.toString('latin1', this.at, end) === word &&
      (end >= this.#file.length || !isRegular(this.#file[end]!));
    if (isIt) this.at = end;
    return isIt;
  }

  /** A whole number that is not negative. @throws {StructureFault} */
  count(): number {
    this.skipSpace();
    const word = this.#regular();
    if (!/^\d{1,12}$/.test(word)) throw new StructureFault(`a number is missing at byte ${this.at}`);
    return Number(word);
  }

  /** @throws {StructureFault} */
  value(depth = 0): PdfValue {
    this.skipSpace();
    if (depth > DEEPEST) throw new StructureFault(`values are nested too deep at byte ${this.at}`);
    const [byte, next] = [this.#file[this.at], this.#file[this.at + 1]];
    if (byte === undefined) throw new StructureFault('the file ends within a value');
    if (byte === 0x28) return this.#string();
    if (byte === 0x3c) return next === 0x3c ? this.#dictionary(depth) : this.#hexadecimal();
    if (byte === 0x5b) return this.#list(depth);
    if (byte === 0x2f) return this.#name();
    if (!isRegular(byte)) throw new StructureFault(`a value is missing at byte ${this.at}`);
    const word = this.#regular();
    if (!/^[+-]?(?:\d+(?:\.\d*)?|\.\d+)$/.test(word)) return { kind: 'word', text: word };
    return this.#reference(word) ?? Number(word);
  }

  /** `12 0 R`, of which the first number has been read. */
  #reference(word: string): PdfValue | undefined {
    if (!/^\d+$/.test(word)) return undefined;
    const match = /^[\0\t\n\f\r ]+(\d{1,5})[\0\t\n\f\r ]+R(?![^\0\t\n\f\r ()<>[\]{}/%])/.exec(
      this.#file.toString('latin1', this.at, this.at + 32),
    );
    if (!match) return undefined;
    this.at += match[0].length;
    return { kind: 'reference', number: Number(word), generation: Number(match[1]) };
  }

  #regular(): string {
    const start = this.at;
    while (this.at < this.#file.length && isRegular(this.#file[this.at]!)) this.at += 1;
    return this.#file.toString('latin1', start, this.at);
  }

  #name(): PdfValue {
    this.at += 1;
    const text = this.#regular().replaceAll(/#([0-9A-Fa-f]{2})/g, (_, code: string) =>
      String.fromCharCode(Number.parseInt(code, 16)),
    );
    return { kind: 'name', text };
  }

  #string(): PdfValue {
    let open = 0;
    for (; this.at < this.#file.length; this.at += 1) {
      const byte = this.#file[this.at]!;
      if (byte === 0x5c) this.at += 1;
      else if (byte === 0x28) open += 1;
      else if (byte === 0x29) {
        open -= 1;
        if (open === 0) {
          this.at += 1;
          return { kind: 'string' };
        }
      }
    }
    throw new StructureFault('a string does not end');
  }

  #hexadecimal(): PdfValue {
    const end = this.#file.indexOf('>', this.at);
    if (end === -1) throw new StructureFault('a string does not end');
    for (let at = this.at + 1; at < end; at += 1)
      if (!isHexadecimal(this.#file[at]!)) throw new StructureFault(`a string at byte ${this.at} is damaged`);
    this.at = end + 1;
    return { kind: 'string' };
  }

  #list(depth: number): PdfValue {
    this.at += 1;
    const items: PdfValue[] = [];
    for (this.skipSpace(); this.#file[this.at] !== 0x5d; this.skipSpace()) items.push(this.value(depth + 1));
    this.at += 1;
    return { kind: 'list', items };
  }

  #dictionary(depth: number): PdfDictionary {
    this.at += 2;
    const entries = new Map<string, PdfValue>();
    for (this.skipSpace(); this.#file[this.at] !== 0x3e; this.skipSpace()) {
      const key = this.value(depth + 1);
      if (typeof key === 'number' || key.kind !== 'name')
        throw new StructureFault(`a key is missing at byte ${this.at}`);
      // Of an entry that stands twice, readers take the first or the last (PDF 32000-1, 7.3.7: undefined).
      if (entries.has(key.text))
        throw new StructureFault(`a dictionary names /${key.text} twice, at byte ${this.at}`);
      entries.set(key.text, this.value(depth + 1));
    }
    if (this.#file[this.at + 1] !== 0x3e)
      throw new StructureFault(`a dictionary does not end at byte ${this.at}`);
    this.at += 2;
    return { kind: 'dictionary', entries };
  }
}

function isRegular(byte: number): boolean {
  return !SPACE.has(byte) && !DELIMITERS.has(byte);
}

function isLineEnd(byte: number): boolean {
  return byte === 0x0a || byte === 0x0d;
}

function isHexadecimal(byte: number): boolean {
  return (
    (byte >= 0x30 && byte <= 0x39) ||
    (byte >= 0x41 && byte <= 0x46) ||
    (byte >= 0x61 && byte <= 0x66) ||
    SPACE.has(byte)
  );
}

/** The text of a name in a dictionary; undefined for anything else. */
export function nameIn({ entries }: PdfDictionary, key: string): string | undefined {
  const value = entries.get(key);
  return typeof value === 'object' && value.kind === 'name' ? value.text : undefined;
}

/** A whole number in a dictionary that is not negative; undefined for anything else. */
export function countIn({ entries }: PdfDictionary, key: string): number | undefined {
  const value = entries.get(key);
  return typeof value === 'number' && Number.isSafeInteger(value) && value >= 0 ? value : undefined;
}

/** A list of whole numbers in a dictionary that are not negative; undefined for anything else. */
export function countsIn({ entries }: PdfDictionary, key: string): readonly number[] | undefined {
  const value = entries.get(key);
  if (typeof value !== 'object' || value.kind !== 'list') return undefined;
  const numbers = value.items.filter(
    (item): item is number => typeof item === 'number' && Number.isSafeInteger(item) && item >= 0,
  );
  return numbers.length === value.items.length ? numbers : undefined;
}

/** A reference in a dictionary, such as "12 0 R"; undefined for anything else. */
export function referenceIn({ entries }: PdfDictionary, key: string): string | undefined {
  const value = entries.get(key);
  return typeof value === 'object' && value.kind === 'reference'
    ? `${value.number} ${value.generation} R`
    : undefined;
}
