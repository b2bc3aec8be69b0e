import { createHash } from 'node:crypto';
import { PDFArray, PDFDocument, PDFHexString } from '@cantoo/pdf-lib';
import { openForeignDocument } from './open-document.ts';

/**
 * Opens a PDF that came from anybody for an incremental update: what `saveAppended` then writes leaves every byte as it was.
 *
 * @throws {OutsideFailure} what `openForeignDocument` throws
 */
export async function openForAppending(pdf: Uint8Array): Promise<PDFDocument> {
  await openForeignDocument(pdf);
  return PDFDocument.load(pdf, { updateMetadata: false, forIncrementalUpdate: true });
}

/** The PDF with the changed objects behind it. The same changes give the same bytes. */
export async function saveAppended(document: PDFDocument, pdf: Uint8Array): Promise<Uint8Array> {
  renewIdentity(document, pdf);
  return document.save({ useObjectStreams: !endsWithTable(pdf) });
}

/** The second half of the identifier changes with each revision (PDF 32000-1, 14.4); the digest makes it repeatable. */
function renewIdentity(document: PDFDocument, before: Uint8Array): void {
  const { context } = document;
  const present = context.lookup(context.trailerInfo.ID);
  const digest = createHash('sha256').update(before).digest('hex').slice(0, 32).toUpperCase();
  const renewed = PDFHexString.of(digest);
  const first = present instanceof PDFArray && present.size() === 2 ? present.get(0) : renewed;
  context.trailerInfo.ID = context.obj([first, renewed]);
}

/** True where the newest cross-reference section is a table, so that the update's is one too (PDF 32000-1, 7.5.8). */
function endsWithTable(pdf: Uint8Array): boolean {
  const file = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength);
  const [, offset] = /startxref\s+(\d+)\s+%%EOF\s*$/.exec(file.subarray(-200).toString('latin1')) ?? [];
  return offset !== undefined && file.subarray(Number(offset), Number(offset) + 4).toString() === 'xref';
}
