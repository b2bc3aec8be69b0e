import { type PDFDocument, PDFHexString, PDFName, type PDFRef, PDFString } from '@cantoo/pdf-lib';
import { foldPath, isPlainPath } from './attachment-path.ts';
import { formatPdfDate, readDate } from './write-metadata.ts';

/** A file that the PDF carries inside. */
export interface Attachment {
  /** A plain path (`isPlainPath`), relative to the project. */
  readonly name: string;
  readonly bytes: Uint8Array;
  /** Such as "application/zip". */
  readonly mimeType: string;
  readonly description: string;
  /** Source: the document was made from it. Data: it stands behind a figure or a table. */
  readonly relationship: 'Source' | 'Data';
}

/**
 * Puts files into the PDF, sorted by name, all with the same date.
 *
 * @param packed what is in them, packed (`Packer`)
 * @throws {Error} when a name is not plain, or is there twice where capitals count for nothing
 */
export function attachFiles(
  document: PDFDocument,
  attachments: readonly Attachment[],
  packed: readonly Uint8Array[],
  date: string,
): void {
  if (attachments.length === 0) return;
  const sorted = attachments
    .map((attachment, i) => ({ ...attachment, packed: packed[i]! }))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
  const taken = new Set<string>();
  for (const { name } of sorted) {
    if (!isPlainPath(name)) throw new Error(`An attachment cannot have the name "${name}".`);
    if (taken.has(foldPath(name))) throw new Error(`Two attachments have the name "${name}".`);
    taken.add(foldPath(name));
  }
  const { context, catalog } = document;
  const files = sorted.map((attachment) => ({
    name: PDFHexString.fromText(attachment.name),
    reference: writeFile(document, attachment, date),
  }));
  const names = context.obj(files.flatMap(({ name, reference }) => [name, reference]));
  catalog.set(PDFName.of('Names'), context.obj({ EmbeddedFiles: { Names: names } }));
  catalog.set(PDFName.of('AF'), context.obj(files.map(({ reference }) => reference)));
}

function writeFile(
  document: PDFDocument,
  attachment: Attachment & { readonly packed: Uint8Array },
  date: string,
): PDFRef {
  const { context } = document;
  const stamp = PDFString.of(formatPdfDate(readDate(date)));
  const content = context.stream(attachment.packed, {
    Type: 'EmbeddedFile',
    Subtype: attachment.mimeType,
    Params: { Size: attachment.bytes.length, CreationDate: stamp, ModDate: stamp },
    Filter: 'FlateDecode',
  });
  return context.register(
    context.obj({
      Type: 'Filespec',
      F: PDFHexString.fromText(attachment.name),
      UF: PDFHexString.fromText(attachment.name),
      EF: { F: context.register(content) },
      Desc: PDFHexString.fromText(attachment.description),
      AFRelationship: attachment.relationship,
    }),
  );
}
