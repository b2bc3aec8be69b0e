import { PDFCrossRefStream, PDFDict, PDFName, PDFNull, PDFNumber, PDFRef } from '@cantoo/pdf-lib';

/** Where an entry stands in the file; the library keeps its entries in the order of these numbers. */
interface NumberedEntry {
  readonly ref: { readonly objectNumber: number };
}

/** The part of the library's table that is private to it. */
interface Table {
  readonly entries: NumberedEntry[];
  appendEntry(entry: NumberedEntry): void;
}

let isQuick = false;

/** Has the library do quickly what it is asked most. What it gives stays the same. */
export function quickenLibrary(): void {
  if (isQuick) return;
  isQuick = true;
  quickenCrossReferences();
  quickenNames();
  quickenTexts();
  quickenReferences();
  quickenNumbers();
  quickenLookups();
}

/**
 * Has the library find the place of an entry in its cross-reference table by halving instead of from the beginning, which
 * took minutes for a note of 200 pages: it grew with the square of their number. The table comes out the same.
 */
function quickenCrossReferences(): void {
  const table = PDFCrossRefStream.prototype as unknown as Table;
  if (typeof table.appendEntry !== 'function') throw new Error('pdf-lib keeps its table in another way');
  table.appendEntry = insertQuickly;
}

/** How many names are known by how they are written: a file from anybody may have any number. */
const MOST_NAMES = 10_000;

/**
 * Has the library find a name by how it is written, instead of looking each time for escapes in it: it is asked for one whenever anything
 * is looked up.
 */
function quickenNames(): void {
  const known = new Map<string, PDFName>();
  const { of } = PDFName;
  PDFName.of = (written) => {
    const found = known.get(written);
    if (found) return found;
    const name = of(written);
    if (known.size < MOST_NAMES) known.set(written, name);
    return name;
  };
}

/**
 * Has the library read a name once, instead of byte by byte each time it is asked for its text: what tags are there is asked again and again.
 */
function quickenTexts(): void {
  const known = new WeakMap<PDFName, string>();
  const { decodeText } = PDFName.prototype;
  PDFName.prototype.decodeText = function decodeOnce(this: PDFName) {
    const found = known.get(this);
    if (found !== undefined) return found;
    const text = decodeText.call(this);
    known.set(this, text);
    return text;
  };
}

/** The greatest number by which a reference is found: numbers of objects may be any in a file from anybody. */
const MOST_REFERENCES = 1_000_000;

/**
 * Has the library find a reference by the number of its object, instead of writing it out first: a long note holds 300 000.
 */
function quickenReferences(): void {
  const known: (PDFRef | undefined)[] = [];
  const { of } = PDFRef;
  PDFRef.of = (objectNumber, generation = 0) => {
    // In order, so that the list has no gaps.
    if (generation !== 0 || !(objectNumber >= 0 && objectNumber < MOST_REFERENCES))
      return of(objectNumber, generation);
    while (known.length <= objectNumber) known.push(undefined);
    known[objectNumber] ??= of(objectNumber, generation);
    return known[objectNumber];
  };
}

/** Whole numbers below that come again and again. */
const MOST_SHARED = 1024;

/**
 * Has the library write a number once as it is, instead of looking twice for a power of ten in it, which hardly any has.
 */
function quickenNumbers(): void {
  const { of } = PDFNumber;
  const shared = Array.from({ length: MOST_SHARED }, (_, number) => of(number));
  PDFNumber.of = (value) => {
    if (value >= 0 && value < MOST_SHARED && Number.isInteger(value)) return shared[value]!;
    const written = String(value);
    return written.includes('e') ? of(value) : makeNumber(value, written);
  };
}

/** What the library's constructor makes of both. */
function makeNumber(numberValue: number, stringValue: string): PDFNumber {
  const number = Object.create(PDFNumber.prototype);
  number.numberValue = numberValue;
  number.stringValue = stringValue;
  return number;
}

/**
 * Has the library look up what no kind is asked of at once, instead of making a list of the kinds and looking through it: nearly all that is
 * looked up in a document is asked for so.
 */
function quickenLookups(): void {
  const { lookup } = PDFDict.prototype;
  PDFDict.prototype.lookup = function lookUpPlainly(this: PDFDict, key: PDFName, ...kinds: never[]) {
    if (kinds.length > 0) return lookup.apply(this, [key, ...kinds] as never);
    const written = this.get(key);
    const value = written instanceof PDFRef ? this.context.lookup(written) : written;
    return value === PDFNull ? undefined : value;
  } as typeof lookup;
}

/** Before the first entry with a greater number, as the library does it. */
function insertQuickly(this: Table, entry: NumberedEntry): void {
  this.entries.splice(placeOf(this.entries, entry.ref.objectNumber), 0, entry);
}

function placeOf(entries: readonly NumberedEntry[], objectNumber: number): number {
  let [low, high] = [0, entries.length];
  // Most come in order, behind all others.
  if (high > 0 && entries[high - 1]!.ref.objectNumber <= objectNumber) return high;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (entries[middle]!.ref.objectNumber > objectNumber) high = middle;
    else low = middle + 1;
  }
  return low;
}
