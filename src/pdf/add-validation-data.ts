import { createHash, type X509Certificate } from 'node:crypto';
import { PDFArray, PDFDict, type PDFDocument, PDFName, PDFRawStream, PDFRef } from '@cantoo/pdf-lib';
import type { RevocationData } from '../cms/revocation-data.ts';
import { openForAppending, saveAppended } from './append-revision.ts';
import type { PdfSignature } from './list-signatures.ts';
import { readForeign } from './open-document.ts';
import type { ValidationData } from './validation-data.ts';

/**
 * Appends what a signature is verified with to the document security store (`/DSS` with `/VRI`; EN 319 142-1, recalled), as an incremental
 * update: certificates, lists of revoked certificates and answers. What the store holds already stands once.
 *
 * @throws {OutsideFailure} what `openForeignDocument` throws
 */
export function addValidationData(
  pdf: Uint8Array,
  signature: PdfSignature,
  data: ValidationData,
): Promise<Uint8Array> {
  return readForeign(async () => {
    const document = await openForAppending(pdf);
    const store = requireDictionary(document, document.catalog, 'DSS');
    const own = requireDictionary(
      document,
      requireDictionary(document, store, 'VRI'),
      nameOf(pdf, signature),
    );
    const kinds = [
      ['Certs', 'Cert', data.certificates.map(({ raw }: X509Certificate) => raw)],
      ['OCSPs', 'OCSP', bytesOf(data.revocation, 'answer')],
      ['CRLs', 'CRL', bytesOf(data.revocation, 'list')],
    ] as const;
    for (const [all, related, contents] of kinds) {
      for (const bytes of contents) {
        const reference = hold(document, store, all, bytes);
        append(document, own, related, reference);
      }
    }
    return saveAppended(document, pdf);
  });
}

function bytesOf(data: readonly RevocationData[], kind: RevocationData['kind']): Uint8Array[] {
  return data.filter((one) => one.kind === kind).map(({ bytes }) => bytes);
}

/**
 * The key of a signature in `/VRI`: SHA-1 of its `/Contents`, the padding included, in upper case (recalled: ISO 32000-2, 12.8.4.4). It
 * is a name, no protection.
 */
function nameOf(pdf: Uint8Array, { byteRange: [, start, end] }: PdfSignature): string {
  const digits = Buffer.from(pdf.subarray(start + 1, end - 1)).toString('latin1');
  return createHash('sha1').update(Buffer.from(digits, 'hex')).digest('hex').toUpperCase();
}

function requireDictionary(document: PDFDocument, holder: PDFDict, key: string): PDFDict {
  const present = holder.lookup(PDFName.of(key));
  if (present instanceof PDFDict) return present;
  const made = PDFDict.withContext(document.context);
  holder.set(PDFName.of(key), document.context.register(made));
  return made;
}

/** The stream of these bytes in a list of the store, made where it is not there. */
function hold(document: PDFDocument, store: PDFDict, key: string, bytes: Uint8Array): PDFRef {
  const list = store.lookup(PDFName.of(key));
  for (const entry of list instanceof PDFArray ? list.asArray() : []) {
    const stream = document.context.lookup(entry);
    const same = stream instanceof PDFRawStream && Buffer.compare(stream.contents, bytes) === 0;
    if (same && entry instanceof PDFRef) return entry;
  }
  const reference = document.context.register(document.context.stream(bytes));
  append(document, store, key, reference);
  return reference;
}

function append(document: PDFDocument, holder: PDFDict, key: string, reference: PDFRef): void {
  const list = holder.lookup(PDFName.of(key));
  const entries = list instanceof PDFArray ? list.asArray() : [];
  holder.set(PDFName.of(key), document.context.obj([...entries, reference]));
}
