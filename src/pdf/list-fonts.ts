import { PDFArray, PDFDict, type PDFDocument, PDFName, type PDFObject } from '@cantoo/pdf-lib';
import { openDocument } from './open-document.ts';

/** A font that a PDF names. */
export interface PdfFont {
  /** PostScript name without the mark of a subset, such as "OpenSans-Bold"; null for a Type 3 font, which has none. */
  readonly name: string | null;
  /** As the PDF calls it: Type0, TrueType, Type1, Type3, ... */
  readonly type: string;
  readonly embedded: boolean;
}

/**
 * The fonts of a PDF, each once, by name.
 *
 * @internal
 */
export async function listFonts(bytes: Uint8Array): Promise<PdfFont[]> {
  return collectFonts(await openDocument(bytes));
}

/** As `listFonts`, from a document that is open already. */
export function collectFonts(document: PDFDocument): PdfFont[] {
  const fonts = new Map<string, PdfFont>();
  for (const [, object] of document.context.enumerateIndirectObjects()) {
    if (!(object instanceof PDFDict) || readName(object.lookup(PDFName.of('Type'))) !== 'Font') continue;
    const type = readName(object.lookup(PDFName.of('Subtype'))) ?? 'unknown';
    // A descendant is told of by the Type0 font that it belongs to.
    if (type.startsWith('CIDFont')) continue;
    const font = { name: readFontName(object, type), type, embedded: isEmbedded(object, type) };
    fonts.set(JSON.stringify(font), font);
  }
  return [...fonts].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, font]) => font);
}

function readFontName(font: PDFDict, type: string): string | null {
  if (type === 'Type3') return null;
  const base = readName(font.lookup(PDFName.of('BaseFont'))) ?? '(without a name)';
  return base.replace(/^[A-Z]{6}\+/, '');
}

function isEmbedded(font: PDFDict, type: string): boolean {
  if (type === 'Type3') return true; // Its glyphs are drawings in the file itself.
  const holder = type === 'Type0' ? readFirst(font.lookup(PDFName.of('DescendantFonts'))) : font;
  const descriptor = holder instanceof PDFDict ? holder.lookup(PDFName.of('FontDescriptor')) : undefined;
  if (!(descriptor instanceof PDFDict)) return false;
  return ['FontFile', 'FontFile2', 'FontFile3'].some(
    (key) => descriptor.lookup(PDFName.of(key)) !== undefined,
  );
}

function readFirst(list: PDFObject | undefined): PDFObject | undefined {
  return list instanceof PDFArray && list.size() > 0 ? list.lookup(0) : undefined;
}

function readName(object: PDFObject | undefined): string | undefined {
  return object instanceof PDFName ? object.decodeText() : undefined;
}
