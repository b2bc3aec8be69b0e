import {
  PDFArray,
  PDFBool,
  PDFCatalog,
  PDFContext,
  PDFDict,
  PDFDocument,
  PDFHexString,
  PDFName,
  PDFNull,
  PDFNumber,
  type PDFObject,
  PDFPageLeaf,
  PDFPageTree,
  PDFRawStream,
  PDFRef,
  PDFString,
} from '@cantoo/pdf-lib';
import { openDocument } from './open-document.ts';
import { quickenLibrary } from './quicken-library.ts';
import { ShortMap } from './short-map.ts';

/**
 * Opens a PDF that the browser has just written, as `openDocument` does and with the same objects. What is written as the browser writes it is
 * read here, each byte once; anything else is left to the library.
 *
 * @throws {OutsideFailure} `pdf-damaged`
 */
export async function openPrinted(bytes: Uint8Array): Promise<PDFDocument> {
  quickenLibrary();
  const context = readPlainly(bytes);
  if (context === undefined) return openDocument(bytes);
  const document = new (PDFDocument as unknown as Opened)(context, false, false);
  try {
    if (document.getPageCount() > 0) return document;
  } catch {
    // Its pages are not what they should be: the library says so.
  }
  return openDocument(bytes);
}

/** What the library keeps to itself: the list of an array. */
interface OpenArray {
  array: PDFObject[];
}

/** What the library keeps to itself: it makes a document of what it has read. */
type Opened = new (context: PDFContext, ignoreEncryption: boolean, updateMetadata: boolean) => PDFDocument;

/**
 * The objects of a file of one revision without encryption, objects in streams or streams whose length stands elsewhere.
 *
 * @returns undefined where it is anything else, or not sound
 * @internal
 */
export function readPlainly(bytes: Uint8Array): PDFContext | undefined {
  try {
    return new Reader(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length)).read();
  } catch (reason) {
    if (reason instanceof Unusual) return undefined;
    throw reason;
  }
}

class Unusual extends Error {}

function giveUp(): never {
  throw new Unusual();
}

/** What a sign is (PDF 32000-1, 7.2.2), by its code: whatever is not listed is regular. */
const [SPACE, DELIMITER] = [1, 2];
const KINDS = new Uint8Array(256);
for (const sign of '\0\t\n\f\r ') KINDS[sign.charCodeAt(0)] = SPACE;
for (const sign of '()<>[]{}/%') KINDS[sign.charCodeAt(0)] = DELIMITER;

const [SLASH, OPEN, CLOSE, LESS, MORE, BRACKET, END_BRACKET, BACKSLASH] = [...'/()<>[]\\'].map((sign) =>
  sign.charCodeAt(0),
) as [number, number, number, number, number, number, number, number];
const [ZERO, NINE, MINUS, POINT, LETTER_R] = [...'09-.R'].map((sign) => sign.charCodeAt(0)) as [
  number,
  number,
  number,
  number,
  number,
];

const TYPE = PDFName.of('Type');
const LENGTH = PDFName.of('Length');
const [CATALOG, PAGES, PAGE] = ['Catalog', 'Pages', 'Page'].map((name) => PDFName.of(name));
const PACKED_KINDS = ['ObjStm', 'XRef'].map((name) => PDFName.of(name));

/** More digits may not be exact. */
const EXACT_DIGITS = 15;

class Reader {
  readonly #bytes: Buffer;
  readonly #context = PDFContext.create();
  #at = 0;
  /** Entries of dictionaries and arrays that have not come to their end, up to `#top`. */
  readonly #piled: PDFObject[] = [];
  #top = 0;

  constructor(bytes: Buffer) {
    this.#bytes = bytes;
  }

  read(): PDFContext {
    const header = /^%PDF-1\.\d\n%[\x80-\xff]{4}\n/.exec(this.#bytes.toString('latin1', 0, 16));
    this.#at = header?.[0].length ?? giveUp();
    this.#skip();
    while (this.#isDigit(this.#at)) this.#readObject();
    return this.#readTrailer();
  }

  #readObject(): void {
    const number = this.#whole();
    const generation = this.#whole();
    this.#expect('obj');
    const value = this.#value();
    const object = value instanceof PDFDict && this.#has('stream\n') ? this.#stream(value) : value;
    this.#expect('endobj');
    if (number === 0) giveUp();
    this.#context.assign(PDFRef.of(number, generation), object);
  }

  /** The library knows what stands in such streams when it has read them. */
  #stream(dictionary: PDFDict): PDFRawStream {
    const length = dictionary.get(LENGTH);
    const type = dictionary.get(TYPE);
    if (!(length instanceof PDFNumber) || PACKED_KINDS.includes(type as PDFName)) giveUp();
    const end = this.#at + (length as PDFNumber).asNumber();
    const content = this.#bytes.subarray(this.#at, end);
    this.#at = end;
    this.#skip();
    this.#expect('endstream');
    return PDFRawStream.of(dictionary, content);
  }

  #readTrailer(): PDFContext {
    const begin = this.#at;
    this.#at = this.#bytes.indexOf('trailer', begin);
    if (this.#at < 0 || !REFERENCES.test(this.#bytes.toString('latin1', begin, this.#at))) giveUp();
    this.#expect('trailer');
    const dictionary = this.#value();
    if (!(dictionary instanceof PDFDict)) return giveUp();
    const end = `startxref\n${begin}\n%%EOF`;
    if (this.#bytes.toString('latin1', this.#at).trimEnd() !== end) giveUp();
    const [Size, Root, Info, ID] = ['Size', 'Root', 'Info', 'ID'].map((key) =>
      dictionary.get(PDFName.of(key)),
    );
    const isKnown = dictionary.keys().every((key) => KNOWN.includes(key));
    if (!isKnown || !(Size instanceof PDFNumber) || !(this.#context.lookup(Root) instanceof PDFCatalog))
      return giveUp();
    this.#context.trailerInfo = { Size, Root: Root!, ...(Info ? { Info } : {}), ...(ID ? { ID } : {}) };
    return this.#context;
  }

  #value(): PDFObject {
    const code = this.#bytes[this.#at]!;
    if (code === SLASH) return this.#name();
    if (code === LESS) return this.#bytes[this.#at + 1] === LESS ? this.#dictionary() : this.#hexadecimal();
    if (this.#isDigit(this.#at)) return this.#reference() ?? this.#number();
    if (code === BRACKET) return this.#array();
    if (code === OPEN) return this.#string();
    if (code === MINUS || code === POINT) return this.#number();
    if (this.#has('true')) return this.#past(PDFBool.True);
    if (this.#has('false')) return this.#past(PDFBool.False);
    return this.#has('null') ? this.#past(PDFNull) : giveUp();
  }

  #dictionary(): PDFDict {
    const bottom = this.#top;
    this.#at += 2;
    this.#skip();
    while (this.#bytes[this.#at] === SLASH) {
      this.#pile(this.#name());
      this.#pile(this.#value());
    }
    if (this.#bytes[this.#at] !== MORE || this.#bytes[this.#at + 1] !== MORE) giveUp();
    this.#at += 2;
    this.#skip();
    const entries = mapOf(this.#takeFrom(bottom));
    const type = entries.get(TYPE);
    if (type === CATALOG) return PDFCatalog.fromMapWithContext(entries, this.#context);
    if (type === PAGES) return PDFPageTree.fromMapWithContext(entries, this.#context);
    if (type === PAGE) return PDFPageLeaf.fromMapWithContext(entries, this.#context);
    return PDFDict.fromMapWithContext(entries, this.#context);
  }

  #array(): PDFArray {
    const bottom = this.#top;
    this.#at += 1;
    this.#skip();
    while (this.#bytes[this.#at] !== END_BRACKET) this.#pile(this.#value());
    this.#at += 1;
    const array = PDFArray.withContext(this.#context);
    (array as unknown as OpenArray).array = this.#takeFrom(bottom);
    return this.#past(array);
  }

  #name(): PDFName {
    const start = this.#at + 1;
    let end = start;
    while (end < this.#bytes.length && KINDS[this.#bytes[end]!] === 0) end += 1;
    this.#at = end;
    const written = this.#bytes.toString('latin1', start, end);
    return this.#past(PDFName.of(written.includes('#') ? decodeEscapes(written) : written));
  }

  #string(): PDFString {
    const start = this.#at;
    let depth = 0;
    for (let at = start; at < this.#bytes.length; at += 1) {
      const code = this.#bytes[at];
      if (code === BACKSLASH) at += 1;
      else if (code === OPEN) depth += 1;
      else if (code === CLOSE) depth -= 1;
      if (depth === 0) {
        this.#at = at + 1;
        return this.#past(PDFString.of(this.#bytes.toString('latin1', start + 1, at)));
      }
    }
    return giveUp();
  }

  #hexadecimal(): PDFHexString {
    const end = this.#bytes.indexOf(MORE, this.#at);
    if (end < 0) giveUp();
    const text = this.#bytes.toString('latin1', this.#at + 1, end);
    this.#at = end + 1;
    return this.#past(PDFHexString.of(text));
  }

  /** Two whole numbers and an R; undefined, and nothing passed, where anything else stands here. */
  #reference(): PDFRef | undefined {
    const start = this.#at;
    const number = this.#digits();
    const isFollowed = this.#at - start <= EXACT_DIGITS && this.#isDigit(this.#skip());
    const generation = isFollowed ? this.#digits() : 0;
    const isSet = isFollowed && !this.#isRegular(this.#at) && this.#bytes[this.#skip()] === LETTER_R;
    if (isSet && !this.#isRegular(this.#at + 1)) {
      this.#at += 1;
      return this.#past(PDFRef.of(number, generation));
    }
    this.#at = start;
    return undefined;
  }

  #number(): PDFNumber {
    const start = this.#at;
    let end = start + (this.#bytes[start] === MINUS ? 1 : 0);
    let value = 0;
    while (this.#isDigit(end)) {
      value = value * 10 + this.#bytes[end]! - ZERO;
      end += 1;
    }
    const isWhole = this.#bytes[end] !== POINT && this.#bytes[start] !== MINUS;
    if (this.#bytes[end] === POINT) {
      end += 1;
      while (this.#isDigit(end)) end += 1;
    }
    if (this.#isRegular(end) || end - start > EXACT_DIGITS || end === start) giveUp();
    if (!isWhole) value = Number(this.#bytes.toString('latin1', start, end));
    if (Number.isNaN(value)) giveUp();
    this.#at = end;
    return this.#past(PDFNumber.of(value));
  }

  /** A whole number, such as that of an object. */
  #whole(): number {
    const start = this.#at;
    const value = this.#digits();
    if (this.#at === start || this.#at - start > EXACT_DIGITS || this.#isRegular(this.#at)) giveUp();
    return this.#past(value);
  }

  #digits(): number {
    let value = 0;
    for (; this.#isDigit(this.#at); this.#at += 1) value = value * 10 + this.#bytes[this.#at]! - ZERO;
    return value;
  }

  #isDigit(at: number): boolean {
    const code = this.#bytes[at];
    return code !== undefined && code >= ZERO && code <= NINE;
  }

  #isRegular(at: number): boolean {
    return at < this.#bytes.length && KINDS[this.#bytes[at]!] === 0;
  }

  /** Whether a word stands here; then it is passed. */
  #has(word: string): boolean {
    for (let i = 0; i < word.length; i += 1)
      if (this.#bytes[this.#at + i] !== word.charCodeAt(i)) return false;
    this.#at += word.length;
    return true;
  }

  #expect(word: string): void {
    if (!this.#has(word)) giveUp();
    this.#skip();
  }

  #past<T>(value: T): T {
    this.#skip();
    return value;
  }

  /** Past blanks, and where that is; the browser writes no comments. */
  #skip(): number {
    while (this.#at < this.#bytes.length && KINDS[this.#bytes[this.#at]!] === SPACE) this.#at += 1;
    return this.#at;
  }

  #pile(value: PDFObject): void {
    this.#piled[this.#top] = value;
    this.#top += 1;
  }

  /** What was piled since, in a list that has room for no more. */
  #takeFrom(bottom: number): PDFObject[] {
    const taken = this.#piled.slice(bottom, this.#top);
    this.#top = bottom;
    return taken;
  }
}

/** More entries than the browser gives a tag: a map finds them sooner. */
const MOST_LISTED = 8;

/** Keys, each with its value behind it, as a map; of a key that comes twice the last value counts. */
function mapOf(listed: PDFObject[]): Map<PDFName, PDFObject> {
  if (listed.length <= 2 * MOST_LISTED && !hasTwice(listed)) return new ShortMap<PDFName, PDFObject>(listed);
  const entries = new Map<PDFName, PDFObject>();
  for (let i = 0; i < listed.length; i += 2) entries.set(listed[i] as PDFName, listed[i + 1]!);
  return entries;
}

function hasTwice(listed: readonly PDFObject[]): boolean {
  for (let i = 2; i < listed.length; i += 2)
    for (let k = 0; k < i; k += 2) if (listed[k] === listed[i]) return true;
  return false;
}

/** The table of references (PDF 32000-1, 7.5.4), of which the objects themselves say as much. */
const REFERENCES = /^xref\n(?:\d+ \d+\n|\d{10} \d{5} [fn] \n)*\n?$/;
const KNOWN = ['Size', 'Root', 'Info', 'ID'].map((key) => PDFName.of(key));

function decodeEscapes(name: string): string {
  return name.replace(/#([0-9A-Fa-f]{2})/g, (_, digits: string) =>
    String.fromCharCode(Number.parseInt(digits, 16)),
  );
}
