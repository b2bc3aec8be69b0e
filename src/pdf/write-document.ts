import {
  PDFArray,
  PDFCatalog,
  PDFDict,
  type PDFDocument,
  PDFName,
  type PDFObject,
  PDFPageLeaf,
  PDFPageTree,
  type PDFRef,
  PDFStream,
} from '@cantoo/pdf-lib';
import { type Packer, packPiece } from './packer.ts';

/** Objects in streams came with version 1.5 (PDF 32000-1, 7.5.7). */
const HEADER = Buffer.from('%PDF-1.7\n%\x81\x81\x81\x81\n\n', 'latin1');

/** So many objects go into one stream, as the library has it. */
const OBJECTS_OF_A_STREAM = 50;

/** Where the object of a number stands (PDF 32000-1, 7.5.8.3): nowhere; at a byte of the file; in a stream, as which of its objects. */
const [FREE, PLAIN, PACKED] = [0, 1, 2];
type Entry = readonly [number: number, kind: number, place: number, generationOrIndex: number];

type NumberedObject = [PDFRef, PDFObject];

/**
 * Writes a document that the browser made as the library would, into the same bytes (`save` with streams of objects). The library measures
 * each object, and again whatever holds it, before it writes them byte by byte.
 */
export function writeDocument({ context }: PDFDocument, packer: Packer): Uint8Array {
  const { Encrypt, Root, Info, ID } = context.trailerInfo;
  if (Encrypt) throw new Error('The browser encrypts nothing.');
  const objects = context.enumerateIndirectObjects();
  const groups = groupBy(
    objects.filter(([ref, object]) => mayBePacked(ref, object)),
    OBJECTS_OF_A_STREAM,
  ).map(writeGroup);
  const takePacked = packer.pack(groups.map(({ content }) => content));

  const file = new Parts();
  const entries: Entry[] = [[0, FREE, 0, 65535]];
  file.add(HEADER);
  for (const [ref, object] of objects) {
    if (mayBePacked(ref, object)) continue;
    entries.push([ref.objectNumber, PLAIN, file.length, ref.generationNumber]);
    file.addObject(`${ref.objectNumber} ${ref.generationNumber}`, ...partsOf(object));
  }
  let number = context.largestObjectNumber;
  for (const [i, content] of takePacked().entries()) {
    number += 1;
    const { numbers, first } = groups[i]!;
    for (const [index, packed] of numbers.entries()) entries.push([packed, PACKED, number, index]);
    entries.push([number, PLAIN, file.length, 0]);
    const facts = `/Filter /FlateDecode\n/Type /ObjStm\n/N ${numbers.length}\n/First ${first}`;
    file.addObject(`${number} 0`, ...streamOf(`<<\n${facts}\n/Length ${content.length}\n>>`, content));
  }
  number += 1;
  const begin = file.length;
  entries.push([number, PLAIN, begin, 0]);
  const { widths, index, bytes } = tabulate(entries.sort(([a], [b]) => a - b));
  const table = packPiece(bytes);
  const facts = [
    `/Size ${number + 1}`,
    ...Object.entries({ Root, Info, ID }).flatMap(([key, value]) => (value ? [`/${key} ${value}`] : [])),
    '/Filter /FlateDecode\n/Type /XRef',
    `/Length ${table.length}\n/W [ ${widths.join(' ')} ]\n/Index [ ${index.join(' ')} ]`,
  ];
  file.addObject(`${number} 0`, ...streamOf(`<<\n${facts.join('\n')}\n>>`, table));
  file.add(Buffer.from(`startxref\n${begin}\n%%EOF`));
  return file.join();
}

/** The file as it grows. */
class Parts {
  length = 0;
  readonly #parts: Uint8Array[] = [];

  add(...parts: readonly Uint8Array[]): void {
    for (const part of parts) {
      this.#parts.push(part);
      this.length += part.length;
    }
  }

  addObject(name: string, ...parts: readonly Uint8Array[]): void {
    this.add(Buffer.from(`${name} obj\n`), ...parts, END_OF_OBJECT);
  }

  join(): Uint8Array {
    const { buffer, byteOffset, length } = Buffer.concat(this.#parts, this.length);
    return new Uint8Array(buffer, byteOffset, length);
  }
}

const END_OF_OBJECT = Buffer.from('\nendobj\n\n');
const [STREAM, END_OF_STREAM] = [Buffer.from('\nstream\n'), Buffer.from('\nendstream')];

/** Streams stand in the file itself, and so does what a reader wants first: the catalog and the pages. */
function mayBePacked(ref: PDFRef, object: PDFObject): boolean {
  return !(
    ref.generationNumber !== 0 ||
    object instanceof PDFStream ||
    object instanceof PDFCatalog ||
    object instanceof PDFPageTree ||
    object instanceof PDFPageLeaf ||
    (object instanceof PDFDict && object.lookup(PDFName.of('Type')) === PDFName.of('Sig'))
  );
}

/** As the library writes it, but for the lists that it makes of the entries of dictionaries, to go through them once. */
function textOf(object: PDFObject): string {
  if (object instanceof PDFDict) {
    let text = '<<\n';
    (object as unknown as OpenDictionary).dict.forEach((value, key) => {
      text += `${key} ${textOf(value)}\n`;
    });
    return `${text}>>`;
  }
  if (!(object instanceof PDFArray)) return object.toString();
  let text = '[ ';
  for (let i = 0; i < object.size(); i += 1) text += `${textOf(object.get(i))} `;
  return `${text}]`;
}

/** What the library keeps to itself: the entries of a dictionary. */
interface OpenDictionary {
  readonly dict: ReadonlyMap<PDFName, PDFObject>;
}

function partsOf(object: PDFObject): Uint8Array[] {
  if (!(object instanceof PDFStream)) return [Buffer.from(textOf(object), 'latin1')];
  // The library would leave them out, for it has read what they hold.
  if (['/ObjStm', '/XRef'].includes(String(object.dict.lookup(PDFName.of('Type')))))
    throw new Error('The browser packs no objects.');
  object.updateDict();
  return streamOf(object.dict.toString(), object.getContents());
}

function streamOf(dictionary: string, content: Uint8Array): Uint8Array[] {
  return [Buffer.from(dictionary, 'latin1'), STREAM, content, END_OF_STREAM];
}

function groupBy<T>(list: readonly T[], size: number): T[][] {
  return Array.from({ length: Math.ceil(list.length / size) }, (_, i) =>
    list.slice(i * size, (i + 1) * size),
  );
}

/** The content of a stream of objects: their numbers with their places, then they themselves. */
function writeGroup(objects: readonly NumberedObject[]): {
  readonly numbers: readonly number[];
  readonly first: number;
  readonly content: Uint8Array;
} {
  let places = '';
  let text = '';
  for (const [ref, object] of objects) {
    places += `${ref.objectNumber} ${text.length} `;
    text += `${textOf(object)}\n`;
  }
  const numbers = objects.map(([ref]) => ref.objectNumber);
  return { numbers, first: places.length, content: Buffer.from(places + text, 'latin1') };
}

/** The cross-references as a table: how many bytes each column has, from which number on there are how many rows, the rows. */
function tabulate(entries: readonly Entry[]): {
  readonly widths: readonly number[];
  readonly index: readonly number[];
  readonly bytes: Uint8Array;
} {
  const widths = [1, 2, 3].map((column) =>
    bytesFor(entries.reduce((most, entry) => Math.max(most, entry[column]!), 0)),
  );
  const width = widths.reduce((sum, one) => sum + one, 0);
  const bytes = Buffer.alloc(width * entries.length);
  const index: number[] = [];
  let at = 0;
  let before = Number.NaN;
  for (const [number, ...columns] of entries) {
    if (number !== before + 1) index.push(number, 0);
    index[index.length - 1]! += 1;
    before = number;
    for (const [i, value] of columns.entries()) at = bytes.writeUIntBE(value, at, widths[i]!);
  }
  return { widths, index, bytes };
}

/** How many bytes a number needs. */
function bytesFor(number: number): number {
  return Math.ceil(number.toString(2).length / 8);
}
