import { PDFArray, PDFDict, type PDFDocument, PDFName, PDFRawStream } from '@cantoo/pdf-lib';
import { decodeUtf16, type GlyphTable, readGlyphTable } from './glyph-table.ts';
import { readStream, readStreamBytes } from './read-stream.ts';

/** A character that was printed as an empty box because no font at hand has it. */
export interface MissingCharacter {
  /** The text it stands for, or null where the file does not say: the browser notes it only from the second on. */
  readonly text: string | null;
  /** The stretch of text in which it stands, with □ in its place. */
  readonly near: string;
  /** Counted from 1. */
  readonly page: number;
}

/**
 * Characters without a glyph, each once a page, in the order of the page's content. Only the streams of pages and of the
 * forms they use are read, in the way in which Chromium writes them.
 *
 * @param known what some of the streams hold
 */
export function listMissingCharacters(document: PDFDocument, known: KnownContents): MissingCharacter[] {
  const missing = new Map<string, MissingCharacter>();
  document.getPages().forEach((page, index) => {
    for (const content of readContents(page.node, known)) {
      for (const box of findBoxes(content)) {
        const found = { ...box, page: index + 1 };
        missing.set(JSON.stringify(found), found);
      }
    }
  });
  return [...missing.values()];
}

type KnownContents = ReadonlyMap<PDFRawStream, Buffer>;

/** A stream of drawing commands, and what its names mean. */
interface Content {
  readonly bytes: Buffer;
  readonly resources: PDFDict | undefined;
}

/**
 * The commands that matter: a font is chosen, a stretch of text is labelled with what it stands for, the label ends, text
 * is shown. The browser writes each glyph as four hexadecimal digits.
 */
const COMMAND =
  /\/(?<font>\S+)\s+[-\d.]+\s+Tf\b|\/ActualText\s*<FEFF(?<label>[0-9A-Fa-f]*)>\s*>>\s*BDC\b|(?<end>\bEMC\b)|<(?<shown>[0-9A-Fa-f]+)>\s*Tj\b/g;

/** Glyph 0 of every font is the box for "no such character" (OpenType specification, "glyf"). */
const BOX = '0000';

function findBoxes({ bytes, resources }: Content): Omit<MissingCharacter, 'page'>[] {
  // Of most pages nothing more need be read.
  if (!mayShowBox(bytes)) return [];
  const boxes: Omit<MissingCharacter, 'page'>[] = [];
  let font: string | undefined;
  let label: string | undefined;
  for (const { groups = {} } of bytes.toString('latin1').matchAll(COMMAND)) {
    if (groups.font !== undefined) font = groups.font;
    else if (groups.label !== undefined) label = decodeUtf16(groups.label);
    else if (groups.end !== undefined) label = undefined;
    else {
      const glyphs = (groups.shown ?? '').toUpperCase().match(/.{4}/g) ?? [];
      if (!glyphs.some((glyph) => glyph === BOX)) continue;
      const table = readTable(resources, font);
      boxes.push({ text: label ?? null, near: glyphs.map((glyph) => table.get(glyph) ?? '\u25a1').join('') });
    }
  }
  return boxes;
}

/** Whether its four digits stand within any text in hexadecimal digits, be it within two glyphs. */
function mayShowBox(bytes: Buffer): boolean {
  for (let at = bytes.indexOf(BOX); at !== -1; at = bytes.indexOf(BOX, at + 1)) {
    let start = at;
    while (start > 0 && HEX_DIGITS.includes(bytes[start - 1]!)) start -= 1;
    if (bytes[start - 1] === LESS) return true;
  }
  return false;
}

const HEX_DIGITS = Buffer.from('0123456789ABCDEFabcdef');
const LESS = '<'.charCodeAt(0);

function readTable(resources: PDFDict | undefined, font: string | undefined): GlyphTable {
  const fonts = resources?.lookup(PDFName.of('Font'));
  const entry = fonts instanceof PDFDict && font !== undefined ? fonts.lookup(PDFName.of(font)) : undefined;
  const map = entry instanceof PDFDict ? entry.lookup(PDFName.of('ToUnicode')) : undefined;
  return map instanceof PDFRawStream ? readGlyphTable(readStream(map)) : new Map();
}

function readContents(page: PDFDict, known: KnownContents): Content[] {
  const contents = page.lookup(PDFName.of('Contents'));
  const streams =
    contents instanceof PDFArray ? contents.asArray().map((_, index) => contents.lookup(index)) : [contents];
  const resources = readResources(page);
  const own = streams
    .filter((stream) => stream instanceof PDFRawStream)
    .map((stream) => ({ bytes: known.get(stream) ?? readStreamBytes(stream), resources }));
  return [...own, ...readForms(resources, new Set())];
}

function readForms(resources: PDFDict | undefined, seen: Set<PDFDict>): Content[] {
  const objects = resources?.lookup(PDFName.of('XObject'));
  if (!(objects instanceof PDFDict) || seen.has(objects)) return [];
  seen.add(objects);
  return objects.keys().flatMap((key) => {
    const form = objects.lookup(key);
    const isForm =
      form instanceof PDFRawStream && form.dict.lookup(PDFName.of('Subtype')) === PDFName.of('Form');
    if (!isForm) return [];
    const own = readResources(form.dict);
    return [{ bytes: readStreamBytes(form), resources: own }, ...readForms(own, seen)];
  });
}

function readResources(holder: PDFDict): PDFDict | undefined {
  const resources = holder.lookup(PDFName.of('Resources'));
  return resources instanceof PDFDict ? resources : undefined;
}
