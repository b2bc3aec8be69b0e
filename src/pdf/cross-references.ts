import { inflate } from './inflate.ts';

/** Where an object of the file stands: at an offset, in a stream of objects, or nowhere any more. */
export type Entry =
  | { readonly kind: 'plain'; readonly offset: number; readonly generation: number }
  | { readonly kind: 'packed'; readonly stream: number }
  | { readonly kind: 'free' };

/** One section of cross-references (PDF 32000-1, 7.5.4 and 7.5.8): what one revision of the file added or changed. */
export interface ReferenceSection {
  readonly offset: number;
  readonly entries: ReadonlyMap<number, Entry>;
  /** The objects that the trailer calls the root and the information, such as "12 0 R". */
  readonly root: string | undefined;
  readonly information: string | undefined;
}

const MOST_SECTIONS = 1000;
const LARGEST_SECTION = 64 * 1024 * 1024;

/**
 * The sections of a file from the newest back to the first that lies before `until`; undefined where they do not follow
 * from one another as those of an appended file do. This is what a reader of PDFs goes by.
 */
export function readSections(pdf: Uint8Array, until: number): ReferenceSection[] | undefined {
  const file = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength);
  const sections: ReferenceSection[] = [];
  for (let offset = readStart(file), before = file.length; offset !== undefined; ) {
    if (offset >= before || sections.length >= MOST_SECTIONS) return undefined;
    const section = offset < until ? emptySection(offset) : readSection(file, offset);
    if (section === undefined) return undefined;
    sections.push(section);
    if (offset < until) return sections;
    before = offset;
    offset = section.previous;
  }
  return undefined;
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

function emptySection(offset: number): LinkedSection {
  return { offset, entries: new Map(), root: undefined, information: undefined, previous: undefined };
}

function readSection(file: Buffer, offset: number): LinkedSection | undefined {
  return file.subarray(offset, offset + 4).toString('latin1') === 'xref'
    ? readTable(file, offset)
    : readStream(file, offset);
}

function readTable(file: Buffer, offset: number): LinkedSection | undefined {
  const text = file.subarray(offset).toString('latin1');
  const [, rows, trailer] = /^xref\s+([\d\snf]*?)trailer\s*<<([\s\S]*?)>>\s*startxref\b/.exec(text) ?? [];
  if (rows === undefined || trailer === undefined || /\/XRefStm\b/.test(trailer)) return undefined;
  const entries = new Map<number, Entry>();
  let number = 0;
  for (const [, first, second, use] of rows.matchAll(/(\d+)\s+(\d+)(?:\s+([nf]))?/g)) {
    if (use === undefined) number = Number(first);
    else {
      entries.set(
        number,
        use === 'f' ? { kind: 'free' } : { kind: 'plain', offset: Number(first), generation: Number(second) },
      );
      number += 1;
    }
  }
  return { offset, entries, ...readTrailer(trailer) };
}

function readStream(file: Buffer, offset: number): LinkedSection | undefined {
  const head = /^\d+\s+\d+\s+obj\s*<<([\s\S]*?)>>\s*stream\r?\n/.exec(
    file.subarray(offset, offset + 4096).toString('latin1'),
  );
  const dictionary = head?.[1];
  if (dictionary === undefined || !/\/Type\s*\/XRef\b/.test(dictionary)) return undefined;
  const widths = readNumbers(dictionary, 'W');
  const length = readNumber(dictionary, 'Length');
  const size = readNumber(dictionary, 'Size');
  if (widths?.length !== 3 || length === undefined || size === undefined) return undefined;
  const start = offset + head![0].length;
  const data = unpack(file.subarray(start, start + length), dictionary);
  if (data === undefined) return undefined;
  const entries = readRows(data, widths, readNumbers(dictionary, 'Index') ?? [0, size]);
  return { offset, entries, ...readTrailer(dictionary) };
}

/** Rows packed plainly or by Flate; with a predictor they are left alone, and the section counts as not understood. */
function unpack(data: Buffer, dictionary: string): Buffer | undefined {
  if (/\/DecodeParms\b/.test(dictionary)) return undefined;
  if (!/\/Filter\b/.test(dictionary)) return data;
  if (!/\/Filter\s*\[?\s*\/FlateDecode\b/.test(dictionary)) return undefined;
  try {
    return inflate(data, LARGEST_SECTION);
  } catch {
    return undefined;
  }
}

function readRows(data: Buffer, widths: readonly number[], index: readonly number[]): Map<number, Entry> {
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
  for (let part = 0; part + 1 < index.length; part += 2) {
    for (let number = index[part]!; number < index[part]! + index[part + 1]!; number += 1) {
      if (width === 0 || at + width > data.length) return entries;
      const [kind, second, third] = [take(widths[0]!, 1), take(widths[1]!, 0), take(widths[2]!, 0)];
      entries.set(number, readEntry(kind, second, third));
    }
  }
  return entries;
}

function readEntry(kind: number, second: number, third: number): Entry {
  if (kind === 1) return { kind: 'plain', offset: second, generation: third };
  return kind === 2 ? { kind: 'packed', stream: second } : { kind: 'free' };
}

function readTrailer(dictionary: string) {
  return {
    root: readReference(dictionary, 'Root'),
    information: readReference(dictionary, 'Info'),
    previous: readNumber(dictionary, 'Prev'),
  };
}

function readReference(dictionary: string, key: string): string | undefined {
  return new RegExp(`/${key}\\s+(\\d+\\s+\\d+\\s+R)\\b`).exec(dictionary)?.[1]?.replaceAll(/\s+/g, ' ');
}

function readNumber(dictionary: string, key: string): number | undefined {
  const match = new RegExp(`/${key}\\s+(\\d+)(?!\\s+\\d+\\s+R)`).exec(dictionary);
  return match === null ? undefined : Number(match[1]);
}

function readNumbers(dictionary: string, key: string): number[] | undefined {
  const match = new RegExp(`/${key}\\s*\\[([\\d\\s]*)\\]`).exec(dictionary);
  return match?.[1]?.trim().split(/\s+/).map(Number);
}
