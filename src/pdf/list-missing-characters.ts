import {
  decodePDFRawStream,
  PDFArray,
  PDFDict,
  type PDFDocument,
  PDFName,
  PDFRawStream,
} from '@cantoo/pdf-lib';

/** A character that was printed as an empty box because no font at hand has it. */
export interface MissingCharacter {
  /** The text it stands for, or null where the file does not say. */
  readonly text: string | null;
  /** Counted from 1. */
  readonly page: number;
}

/** Glyph 0 of a font is the box for "no such character". The browser writes each glyph as four hexadecimal digits. */
const SHOWN_TEXT = /<([0-9A-Fa-f]+)>\s*Tj/g;
const LABELLED_BOX = /\/ActualText\s*<FEFF([0-9A-Fa-f]*)>\s*>>\s*BDC\s*<(?:0000)+>\s*Tj/g;

/**
 * Characters without a glyph, in reading order, each once a page. Only the streams of pages and of the forms they use
 * are read, in the way in which Chromium writes them.
 */
export function listMissingCharacters(document: PDFDocument): MissingCharacter[] {
  const missing = new Map<string, MissingCharacter>();
  document.getPages().forEach((page, index) => {
    for (const content of readContents(page.node)) {
      for (const text of findBoxes(content)) {
        const found = { text, page: index + 1 };
        missing.set(JSON.stringify(found), found);
      }
    }
  });
  return [...missing.values()];
}

function findBoxes(content: string): (string | null)[] {
  const labelled = [...content.matchAll(LABELLED_BOX)].map((match) =>
    Buffer.from(match[1] ?? '', 'hex')
      .swap16()
      .toString('utf16le'),
  );
  const rest = content.replaceAll(LABELLED_BOX, '');
  const unlabelled = [...rest.matchAll(SHOWN_TEXT)].some((match) => holdsGlyphZero(match[1] ?? ''));
  return unlabelled ? [...labelled, null] : labelled;
}

function holdsGlyphZero(digits: string): boolean {
  for (let index = 0; index + 4 <= digits.length; index += 4) {
    if (digits.startsWith('0000', index)) return true;
  }
  return false;
}

function readContents(page: PDFDict): string[] {
  const contents = page.lookup(PDFName.of('Contents'));
  const streams =
    contents instanceof PDFArray ? contents.asArray().map((_, index) => contents.lookup(index)) : [contents];
  const texts = streams.filter((stream) => stream instanceof PDFRawStream).map(readText);
  return [...texts, ...readForms(page, new Set())];
}

function readForms(holder: PDFDict, seen: Set<PDFDict>): string[] {
  const resources = holder.lookup(PDFName.of('Resources'));
  const objects = resources instanceof PDFDict ? resources.lookup(PDFName.of('XObject')) : undefined;
  if (!(objects instanceof PDFDict) || seen.has(objects)) return [];
  seen.add(objects);
  return objects.keys().flatMap((key) => {
    const form = objects.lookup(key);
    if (!(form instanceof PDFRawStream) || form.dict.lookup(PDFName.of('Subtype')) !== PDFName.of('Form'))
      return [];
    return [readText(form), ...readForms(form.dict, seen)];
  });
}

function readText(stream: PDFRawStream): string {
  return Buffer.from(decodePDFRawStream(stream).decode()).toString('latin1');
}
