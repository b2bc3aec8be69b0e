import { decodePDFRawStream, PDFName, type PDFRawStream } from '@cantoo/pdf-lib';
import { inflate } from './inflate.ts';
import { LARGEST_CONTENT } from './open-document.ts';

/** The text of a stream that the browser wrote, one character a byte. */
export function readStream(stream: PDFRawStream): string {
  return readStreamBytes(stream).toString('latin1');
}

/** What a stream that the browser wrote holds. */
export function readStreamBytes(stream: PDFRawStream): Buffer {
  const filter = stream.dict.lookup(PDFName.of('Filter'));
  // What most are is decompressed by Node itself, in a fraction of the library's time.
  const isPlain = filter === PDFName.of('FlateDecode') && !stream.dict.has(PDFName.of('DecodeParms'));
  return isPlain
    ? inflate(stream.contents, LARGEST_CONTENT)
    : Buffer.from(decodePDFRawStream(stream).decode());
}
