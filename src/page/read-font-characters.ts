import { brotliDecompressSync } from 'node:zlib';

const KNOWN_TAGS = [
  'cmap',
  'head',
  'hhea',
  'hmtx',
  'maxp',
  'name',
  'OS/2',
  'post',
  'cvt ',
  'fpgm',
  'glyf',
  'loca',
];
const HEADER_LENGTH = 48;

/**
 * The characters for which a WOFF2 font has a glyph, from its `cmap` table (WOFF File Format 2.0, 4 and 5; OpenType,
 * cmap formats 4 and 12).
 *
 * @throws {Error} when the bytes are no WOFF2 font with such a table
 */
export function readFontCharacters(font: Buffer): ReadonlySet<number> {
  if (font.toString('latin1', 0, 4) !== 'wOF2') throw new Error('not a WOFF2 font');
  const reader = new Reader(font, HEADER_LENGTH);
  let offset = 0;
  let cmap: { start: number; length: number } | undefined;
  for (let i = 0; i < font.readUInt16BE(12); i += 1) {
    const flags = reader.byte();
    const tag = (flags & 63) === 63 ? reader.tag() : (KNOWN_TAGS[flags & 63] ?? '');
    const length = reader.base128();
    // Outlines are transformed unless they say 3; all other tables are as they were unless they say something else than 0.
    const isOutline = tag === 'glyf' || tag === 'loca';
    const isTransformed = isOutline ? flags >> 6 !== 3 : flags >> 6 !== 0;
    const stored = isTransformed ? reader.base128() : length;
    if (tag === 'cmap') cmap = { start: offset, length };
    offset += stored;
  }
  if (!cmap) throw new Error('the font has no cmap table');
  const tables = brotliDecompressSync(
    font.subarray(reader.position, reader.position + font.readUInt32BE(20)),
  );
  return readCmap(tables.subarray(cmap.start, cmap.start + cmap.length));
}

function readCmap(cmap: Buffer): Set<number> {
  const characters = new Set<number>();
  for (let i = 0; i < cmap.readUInt16BE(2); i += 1) {
    const subtable = cmap.subarray(cmap.readUInt32BE(4 + 8 * i + 4));
    const format = subtable.readUInt16BE(0);
    if (format === 4) addSegments(subtable, characters);
    if (format === 12) addGroups(subtable, characters);
  }
  if (characters.size === 0) throw new Error('the cmap table of the font has no format that is read');
  return characters;
}

/** Format 4: segments of the basic plane; a glyph number of 0 means that there is none. */
function addSegments(table: Buffer, characters: Set<number>): void {
  const twice = table.readUInt16BE(6);
  for (let i = 0; i < twice; i += 2) {
    const end = table.readUInt16BE(14 + i);
    const start = table.readUInt16BE(16 + twice + i);
    const delta = table.readUInt16BE(16 + 2 * twice + i);
    const rangeAt = 16 + 3 * twice + i;
    const range = table.readUInt16BE(rangeAt);
    for (let code = start; code <= end && code !== 0xffff; code += 1) {
      const glyph =
        range === 0 ? (code + delta) & 0xffff : table.readUInt16BE(rangeAt + range + 2 * (code - start));
      if (glyph !== 0) characters.add(code);
    }
  }
}

/** Format 12: groups over all planes. */
function addGroups(table: Buffer, characters: Set<number>): void {
  for (let i = 0; i < table.readUInt32BE(12); i += 1) {
    const at = 16 + 12 * i;
    const glyph = table.readUInt32BE(at + 8);
    for (let code = table.readUInt32BE(at); code <= table.readUInt32BE(at + 4); code += 1) {
      if (glyph + code - table.readUInt32BE(at) !== 0) characters.add(code);
    }
  }
}

class Reader {
  position: number;
  readonly #bytes: Buffer;

  constructor(bytes: Buffer, position: number) {
    this.#bytes = bytes;
    this.position = position;
  }

  byte(): number {
    this.position += 1;
    return this.#bytes.readUInt8(this.position - 1);
  }

  tag(): string {
    this.position += 4;
    return this.#bytes.toString('latin1', this.position - 4, this.position);
  }

  /** UIntBase128: seven bits a byte, the highest bit says that another follows. */
  base128(): number {
    let value = 0;
    for (;;) {
      const byte = this.byte();
      value = value * 128 + (byte & 127);
      if (byte < 128) return value;
    }
  }
}
