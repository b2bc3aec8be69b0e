import { PDFArray, PDFDict, PDFHexString, type PDFObject, PDFRawStream } from '@cantoo/pdf-lib';

/** An object as text, all of its content included, in one way of the several in which it can be written. */
export function writeObject(object: PDFObject | undefined): string {
  if (object instanceof PDFRawStream)
    return `${writeObject(object.dict)}\n${Buffer.from(object.contents).toString('base64')}`;
  if (object instanceof PDFDict) {
    const entries = object.entries().map(([key, value]) => `${key.toString()} ${writeObject(value)}`);
    return `<<${entries.sort().join('\n')}>>`;
  }
  if (object instanceof PDFArray) return `[${object.asArray().map(writeObject).join('\n')}]`;
  if (object instanceof PDFHexString) return object.toString().toLowerCase();
  return object === undefined ? '' : object.toString();
}
