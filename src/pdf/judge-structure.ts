import { type Entry, followSections, type ReferenceSection, startOfStream } from './cross-references.ts';
import { inflate } from './inflate.ts';
import {
  countIn,
  nameIn,
  type PdfDictionary,
  type PdfValue,
  StructureFault,
  ValueParser,
} from './parse-value.ts';

/** Bytes of a file that are accounted for. */
interface Tile {
  readonly start: number;
  readonly end: number;
}

/** An object that stands in the file itself. */
interface PlainObject extends Tile {
  readonly number: number;
  readonly value: PdfValue;
  /** Where its stream begins and ends, if it has one. */
  readonly stream?: Tile;
}

/** Largest stream of objects, unpacked. */
const LARGEST_STREAM = 256 * 1024 * 1024;

/**
 * Whether every reader of a PDF sees the same objects in it: those that go by the cross-references, as the format has it, and those that look
 * through the file, as some do, and as all do when they repair one. Every byte must belong to an object that its revision names, at the place
 * where it is named, or to the cross-references themselves. Undefined where it is so; else the first thing that is not.
 */
export function judgeStructure(pdf: Uint8Array): string | undefined {
  const file = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength);
  try {
    judge(file);
    return undefined;
  } catch (fault) {
    if (fault instanceof StructureFault) return fault.message;
    throw fault;
  }
}

function judge(file: Buffer): void {
  const header = /^%PDF-\d\.\d[\r\n ]+(?:%[\x80-\xff]{4,}[\r\n]+)?/.exec(file.toString('latin1', 0, 64));
  if (!header) throw new StructureFault('it does not begin as a PDF does');
  // The oldest first.
  const sections = followSections(file, 0).reverse();
  const known = new Map<number, Entry>();
  const tiles: Tile[] = [{ start: 0, end: header[0].length }];
  let from = header[0].length;
  for (const section of sections) {
    const end = endOfRevision(file, section);
    for (const [number, entry] of section.entries) known.set(number, entry);
    tiles.push({ start: section.offset, end });
    const objects = readObjects(file, section, { start: from, end }, known);
    tiles.push(...objects.filter(({ number }) => number !== section.stream));
    judgePacked(file, section, objects);
    from = end;
  }
  judgeGaps(file, tiles);
}

/** The end of a revision, behind its `%%EOF` and the end of that line; what stands before that must name its own section. */
function endOfRevision(file: Buffer, { offset, end }: ReferenceSection): number {
  const text = file.toString('latin1', end, end + 128);
  const match = /^[\0\t\n\f\r ]+startxref[\t\n\r ]+(\d+)[\t\n\r ]+%%EOF(?:\r\n|\r|\n|$)?/.exec(text);
  if (!match || Number(match[1]) !== offset)
    throw new StructureFault(
      `the revision with its cross-references at byte ${offset} does not end with them`,
    );
  return end + match[0].length;
}

/**
 * The objects that a section names in the file itself, each at its place and within its own revision. None is looked for beyond the
 * beginning of the next one, so that each byte is read once, whatever the file says.
 */
function readObjects(
  file: Buffer,
  section: ReferenceSection,
  revision: Tile,
  known: ReadonlyMap<number, Entry>,
): PlainObject[] {
  const plain = [...section.entries]
    .flatMap(([number, entry]) => (entry.kind === 'plain' ? [{ number, ...entry }] : []))
    .sort((a, b) => a.offset - b.offset);
  return plain.map((entry, i) => {
    const { number, offset } = entry;
    if (offset < revision.start || offset >= revision.end)
      throw new StructureFault(`object ${number} is named by another revision than that in which it stands`);
    const end = plain[i + 1]?.offset ?? revision.end;
    return readObject(file.subarray(0, end), number, entry, file, known);
  });
}

function readObject(
  part: Buffer,
  number: number,
  { offset, generation }: Extract<Entry, { kind: 'plain' }>,
  file: Buffer,
  known: ReadonlyMap<number, Entry>,
): PlainObject {
  const parser = new ValueParser(part, offset);
  if (
    !/\d/.test(String.fromCharCode(part[offset] ?? 0)) ||
    parser.count() !== number ||
    parser.count() !== generation
  )
    throw new StructureFault(`object ${number} is not where the cross-references say`);
  parser.expect('obj');
  const value = parser.value();
  if (parser.has('endobj')) return { number, value, start: offset, end: parser.at };
  if (typeof value === 'number' || value.kind !== 'dictionary')
    throw new StructureFault(`object ${number} does not end`);
  const start = startOfStream(part, parser);
  const end = start + readLength(file, number, value, known);
  parser.at = end;
  const between = /^(?:\r\n|\r|\n)?endstream/.exec(part.toString('latin1', end, end + 16));
  if (!between) throw new StructureFault(`the stream of object ${number} is longer or shorter than it says`);
  parser.expect('endstream');
  parser.expect('endobj');
  return { number, value, stream: { start, end }, start: offset, end: parser.at };
}

/** The length of a stream, which may stand in an object of its own (PDF 32000-1, 7.3.8.2). */
function readLength(
  file: Buffer,
  number: number,
  dictionary: PdfDictionary,
  known: ReadonlyMap<number, Entry>,
): number {
  const own = countIn(dictionary, 'Length');
  if (own !== undefined) return own;
  const value = dictionary.entries.get('Length');
  const entry = typeof value === 'object' && value.kind === 'reference' ? known.get(value.number) : undefined;
  if (entry?.kind !== 'plain')
    throw new StructureFault(`the stream of object ${number} does not say how long it is`);
  const parser = new ValueParser(file, entry.offset);
  if (parser.count() !== (value as { number: number }).number || parser.count() !== entry.generation)
    throw new StructureFault(`the stream of object ${number} does not say how long it is`);
  parser.expect('obj');
  return parser.count();
}

/** Holds the streams of objects of a revision against the entries that lead into them: neither may know more than the other. */
function judgePacked(file: Buffer, section: ReferenceSection, objects: readonly PlainObject[]): void {
  const expected = new Map<number, number>();
  for (const [number, entry] of section.entries)
    if (entry.kind === 'packed') expected.set(number, entry.stream);
  for (const { number, value, stream } of objects) {
    if (
      !stream ||
      typeof value === 'number' ||
      value.kind !== 'dictionary' ||
      nameIn(value, 'Type') !== 'ObjStm'
    )
      continue;
    for (const packed of listPacked(file.subarray(stream.start, stream.end), number, value)) {
      if (expected.get(packed) !== number)
        throw new StructureFault(
          `object ${packed} stands in stream ${number}, and the cross-references do not say so`,
        );
      expected.delete(packed);
    }
  }
  const [missing] = expected.keys();
  if (missing !== undefined)
    throw new StructureFault(`object ${missing} is not where the cross-references say`);
}

/** Numbers of the objects in a stream of objects (PDF 32000-1, 7.5.7), each of which is read. */
function listPacked(data: Buffer, number: number, dictionary: PdfDictionary): number[] {
  const [count, first] = [countIn(dictionary, 'N'), countIn(dictionary, 'First')];
  const filter = dictionary.entries.get('Filter');
  const isFlate = nameIn(dictionary, 'Filter') === 'FlateDecode' && !dictionary.entries.has('DecodeParms');
  if (count === undefined || first === undefined || (filter !== undefined && !isFlate))
    throw new StructureFault(`the stream of objects ${number} is packed in an unusual way`);
  const content = filter === undefined ? data : inflateObjects(data, number);
  const head = new ValueParser(content.subarray(0, first), 0);
  const places = Array.from(
    { length: Math.min(count, content.length) },
    () => [head.count(), head.count()] as const,
  );
  head.skipSpace();
  if (head.at < first) throw new StructureFault(`the stream of objects ${number} holds more than it says`);
  const parser = new ValueParser(content, first);
  for (const [packed, offset] of places) {
    parser.skipSpace();
    if (first + offset > parser.at || first + offset < parser.at - SPACES_BEFORE)
      throw new StructureFault(`object ${packed} is not where the stream ${number} says`);
    parser.value();
  }
  parser.skipSpace();
  if (parser.at < content.length)
    throw new StructureFault(`the stream of objects ${number} holds more than it says`);
  return places.map(([packed]) => packed);
}

/** An offset may lead to white space before the object. */
const SPACES_BEFORE = 8;

function inflateObjects(data: Buffer, number: number): Buffer {
  try {
    return inflate(data, LARGEST_STREAM);
  } catch {
    throw new StructureFault(`the stream of objects ${number} cannot be unpacked`);
  }
}

/** Between what is accounted for there may be white space, and lines of comment in which no repairer finds anything. */
function judgeGaps(file: Buffer, tiles: readonly Tile[]): void {
  let at = 0;
  for (const { start, end } of [...tiles, { start: file.length, end: file.length }].sort(
    (a, b) => a.start - b.start,
  )) {
    if (start < at) throw new StructureFault(`two parts of it overlap at byte ${start}`);
    if (start - at > LONGEST_GAP || !HARMLESS.test(file.toString('latin1', at, start)))
      throw new StructureFault(`bytes ${at} to ${start} belong to no object and no revision`);
    at = end;
  }
}

const LONGEST_GAP = 4096;
const HARMLESS =
  /^(?:[\0\t\n\f\r ]|%(?!%EOF|[^\r\n]*(?:obj|stream|xref|trailer))[\x20-\x7e\x80-\xff]*(?=[\r\n]))*$/;
