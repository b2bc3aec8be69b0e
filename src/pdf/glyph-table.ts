/** What the glyphs of a font stand for: from the glyph's four hexadecimal digits, in capitals, to text. */
export type GlyphTable = ReadonlyMap<string, string>;

/**
 * Reads the table from glyphs to characters that the browser writes for each font (a "ToUnicode" character map, PDF
 * 32000-1, 9.10.3): single glyphs, and ranges whose characters count up from the first.
 */
export function readGlyphTable(map: string): GlyphTable {
  const table = new Map<string, string>();
  for (const [, pairs = ''] of map.matchAll(/beginbfchar([\s\S]*?)endbfchar/g)) {
    for (const [glyph, text] of readRows(pairs, 2)) table.set(glyph!, decodeUtf16(text!));
  }
  for (const [, ranges = ''] of map.matchAll(/beginbfrange([\s\S]*?)endbfrange/g)) {
    for (const [from, to, text] of readRows(ranges, 3)) addRange(table, from!, to!, decodeUtf16(text!));
  }
  return table;
}

/** Text from hexadecimal digits, four to a unit of UTF-16 with the higher byte first. */
export function decodeUtf16(digits: string): string {
  return Buffer.from(digits.slice(0, digits.length - (digits.length % 4)), 'hex')
    .swap16()
    .toString('utf16le');
}

function addRange(table: Map<string, string>, from: string, to: string, text: string): void {
  const first = Number.parseInt(from, 16);
  const last = Math.min(Number.parseInt(to, 16), first + 0xffff);
  const start = text.codePointAt(0) ?? 0;
  for (let glyph = first; glyph <= last; glyph += 1) {
    const code = start + glyph - first;
    if (code > 0x10ffff) return;
    table.set(glyph.toString(16).toUpperCase().padStart(4, '0'), String.fromCodePoint(code));
  }
}

function readRows(text: string, columns: number): string[][] {
  const cells = [...text.matchAll(/<([0-9A-Fa-f]+)>/g)].map((match) => (match[1] ?? '').toUpperCase());
  const rows: string[][] = [];
  for (let index = 0; index + columns <= cells.length; index += columns)
    rows.push(cells.slice(index, index + columns));
  return rows;
}
