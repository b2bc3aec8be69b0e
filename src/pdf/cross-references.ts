import { inflate } from './inflate.ts';
import {
  countIn,
  countsIn,
  nameIn,
  type PdfDictionary,
  referenceIn,
  StructureFault,
  ValueParser,
} from './parse-value.ts';

/** Where an object of the file stands: at an offset, in a stream of objects, or nowhere any more. */
export type Entry =
  | { readonly kind: 'plain'; readonly offset: number; readonly generation: number }
  | { readonly kind: 'packed'; readonly stream: number }
  | { readonly kind: 'free' };

/** One section of cross-references (PDF 32000-1, 7.5.4 and 7.5.8): what one revision of the file added or changed. */
export interface ReferenceSection {
  readonly offset: number;
  /** Behind its trailer, or behind the stream that it is. */
  readonly end: number;
  readonly entries: ReadonlyMap<number, Entry>;
  /** The objects that the trailer calls the root and the information, such as "12 0 R". */
  readonly root: string | undefined;
  readonly information: string | undefined;
  /** The object that the section is; undefined for a table. */
  readonly stream: number | undefined;
}

const MOST_SECTIONS = 1000;
/** Most entries of all sections: a note of 2 000 pages has a tenth of that. */
const MOST_ENTRIES = 4_000_000;
const LARGEST_SECTION = 64 * 1024 * 1024;

/**
 * The sections of a file from the newest back to the first that lies before `until`; undefined where they do not follow
 * from one another as those of an appended file do. This is what a reader of PDFs goes by.
 */
export function readSections(pdf: Uint8Array, until: number): ReferenceSection[] | undefined {
  try {
    return followSections(pdf, until);
  } catch (fault) {
    if (fault instanceof StructureFault) return undefined;
    throw fault;
  }
}

/**
 * As `readSections`; with 0, all sections of the file.
 *
 * @throws {StructureFault} that says what is wrong with them
 */
export function followSections(pdf: Uint8Array, until: number): ReferenceSection[] {
  const file = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength);
  const sections: ReferenceSection[] = [];
  let room = MOST_ENTRIES;
  let offset = readStart(file);
  if (offset === undefined) throw new StructureFault('its end does not say where its cross-references are');
  for (let before = file.length; ; ) {
    if (offset >= before) throw new StructureFault('its cross-references lead forward or in a circle');
    if (sections.length >= MOST_SECTIONS)
      throw new StructureFault(`it has more than ${MOST_SECTIONS} revisions`);
    if (offset < until) return [...sections, emptySection(offset)];
    const section = readSection(file, offset, room);
    room -= section.entries.size;
    sections.push(section);
    if (section.previous === undefined) {
      if (until === 0) return sections;
      throw new StructureFault('its cross-references do not lead to its first revision');
    }
    [before, offset] = [offset, section.previous];
  }
}

/** Offset of the newest section, which the end of the file names. */
export function readStart(pdf: Uint8Array): number | undefined {
  const end = Buffer.from(pdf.subarray(-64)).toString('latin1');
  const match = /startxref\s+(\d+)\s+%%EOF\s*$/.exec(end);
  return match === null ? undefined : Number(match[1]);
}

interface LinkedSection extends ReferenceSection {
  readonly previous: number | undefined;
}

function emptySection(offset: number): ReferenceSection {
  return {
    offset,
    end: offset,
    entries: new Map(),
    root: undefined,
    information: undefined,
    stream: undefined,
  };
}

/** @param room how many entries it may have */
function readSection(file: Buffer, offset: number, room: number): LinkedSection {
  return file.toString('latin1', offset, offset + 4) === 'xref'
    ? readTable(file, offset, room)
    : readStream(file, offset, room);
}

const TOO_MANY = `it has more than ${MOST_ENTRIES} objects`;

function readTable(file: Buffer, offset: number, room: number): LinkedSection {
  const parser = new ValueParser(file, offset);
  parser.expect('xref');
  const entries = new Map<number, Entry>();
  while (!parser.has('trailer')) {
    const [first, count] = [parser.count(), parser.count()];
    if (entries.size + count > room) throw new StructureFault(TOO_MANY);
    for (let number = first; number < first + count; number += 1) {
      const [place, generation] = [parser.count(), parser.count()];
      const used = parser.has('n');
      if (!used) parser.expect('f');
      if (entries.has(number)) throw new StructureFault(`its cross-references name object ${number} twice`);
      entries.set(number, used ? { kind: 'plain', offset: place, generation } : { kind: 'free' });
    }
  }
  const trailer = parser.value();
  if (typeof trailer === 'number' || trailer.kind !== 'dictionary')
    throw new StructureFault('it has no trailer');
  // Old readers take the table, new ones the stream beside it (PDF 32000-1, 7.5.8.4).
  if (trailer.entries.has('XRefStm'))
    throw new StructureFault('it has two sets of cross-references for one revision');
  return { offset, end: parser.at, entries, stream: undefined, ...readTrailer(trailer) };
}

function readStream(file: Buffer, offset: number, room: number): LinkedSection {
  const parser = new ValueParser(file, offset);
  const stream = parser.count();
  parser.count();
  parser.expect('obj');
  const dictionary = parser.value();
  if (
    typeof dictionary === 'number' ||
    dictionary.kind !== 'dictionary' ||
    nameIn(dictionary, 'Type') !== 'XRef'
  )
    throw new StructureFault(`there are no cross-references at byte ${offset}`);
  const widths = countsIn(dictionary, 'W');
  const length = countIn(dictionary, 'Length');
  const size = countIn(dictionary, 'Size');
  if (widths?.length !== 3 || widths.some((width) => width > 8) || length === undefined || size === undefined)
    throw new StructureFault(`the cross-references at byte ${offset} are damaged`);
  const start = startOfStream(file, parser);
  const data = unpack(file.subarray(start, start + length), dictionary);
  const entries = readRows(data, widths, countsIn(dictionary, 'Index') ?? [0, size], room);
  parser.at = start + length;
  parser.expect('endstream');
  parser.expect('endobj');
  return { offset, end: parser.at, entries, stream, ...readTrailer(dictionary) };
}

/** Passes the word 'stream' and the end of its line. @throws {StructureFault} */
export function startOfStream(file: Buffer, parser: ValueParser): number {
  parser.expect('stream');
  if (file[parser.at] === 0x0a) return parser.at + 1;
  if (file[parser.at] === 0x0d && file[parser.at + 1] === 0x0a) return parser.at + 2;
  throw new StructureFault(`the stream at byte ${parser.at} does not begin on a line of its own`);
}

/** Rows packed plainly or by Flate, with or without a predictor (PDF 32000-1, 7.4.4.4). */
function unpack(data: Buffer, dictionary: PdfDictionary): Buffer {
  const filter = dictionary.entries.get('Filter');
  if (filter === undefined) return data;
  const single =
    typeof filter === 'object' && filter.kind === 'list' && filter.items.length === 1
      ? filter.items[0]
      : filter;
  if (typeof single !== 'object' || single.kind !== 'name' || single.text !== 'FlateDecode')
    throw new StructureFault('its cross-references are packed in an unusual way');
  const rows = inflateRows(data);
  const held = dictionary.entries.get('DecodeParms');
  const parameters = typeof held === 'object' && held.kind === 'list' ? held.items[0] : held;
  if (typeof parameters !== 'object' || parameters.kind !== 'dictionary') return rows;
  const predictor = countIn(parameters, 'Predictor') ?? 1;
  return predictor === 1 ? rows : undoPredictor(rows, predictor, countIn(parameters, 'Columns') ?? 1);
}

function inflateRows(data: Buffer): Buffer {
  try {
    return inflate(data, LARGEST_SECTION);
  } catch {
    throw new StructureFault('its cross-references cannot be unpacked');
  }
}

/** Rows of which each byte is the difference from nothing, from the byte before it, or from the one above it. */
function undoPredictor(rows: Buffer, predictor: number, columns: number): Buffer {
  if (predictor < 10 || columns < 1 || columns > 64 || rows.length % (columns + 1) !== 0)
    throw new StructureFault('its cross-references are packed in an unusual way');
  const plain = Buffer.alloc((rows.length / (columns + 1)) * columns);
  for (let row = 0; row * columns < plain.length; row += 1) {
    const kind = rows[row * (columns + 1)]!;
    if (kind > 2) throw new StructureFault('its cross-references are packed in an unusual way');
    for (let column = 0; column < columns; column += 1) {
      const at = row * columns + column;
      const left = column === 0 ? 0 : plain[at - 1]!;
      const above = row === 0 ? 0 : plain[at - columns]!;
      plain[at] = rows[row * (columns + 1) + 1 + column]! + [0, left, above][kind]!;
    }
  }
  return plain;
}

function readRows(
  data: Buffer,
  widths: readonly number[],
  index: readonly number[],
  room: number,
): Map<number, Entry> {
  const entries = new Map<number, Entry>();
  let at = 0;
  const take = (width: number, otherwise: number): number => {
    if (width === 0) return otherwise;
    let value = 0;
    for (const byte of data.subarray(at, at + width)) value = value * 256 + byte;
    at += width;
    return value;
  };
  const width = widths.reduce((sum, one) => sum + one, 0);
  const rows = index.reduce((sum, count, i) => (i % 2 === 1 ? sum + count : sum), 0);
  if (width === 0 || rows * width !== data.length)
    throw new StructureFault('its cross-references are longer or shorter than they say');
  if (rows > room) throw new StructureFault(TOO_MANY);
  for (let part = 0; part + 1 < index.length; part += 2) {
    for (let number = index[part]!; number < index[part]! + index[part + 1]!; number += 1) {
      const [kind, second, third] = [take(widths[0]!, 1), take(widths[1]!, 0), take(widths[2]!, 0)];
      if (entries.has(number)) throw new StructureFault(`its cross-references name object ${number} twice`);
      entries.set(number, readEntry(kind, second, third));
    }
  }
  return entries;
}

function readEntry(kind: number, second: number, third: number): Entry {
  if (kind === 1) return { kind: 'plain', offset: second, generation: third };
  return kind === 2 ? { kind: 'packed', stream: second } : { kind: 'free' };
}

function readTrailer(dictionary: PdfDictionary) {
  const previous = countIn(dictionary, 'Prev');
  if (previous === undefined && dictionary.entries.has('Prev'))
    throw new StructureFault('its trailer does not say where its earlier cross-references are');
  return { root: referenceIn(dictionary, 'Root'), information: referenceIn(dictionary, 'Info'), previous };
}
