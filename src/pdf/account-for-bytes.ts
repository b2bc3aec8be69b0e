import { findLaterChanges, type LaterChanges } from './find-later-changes.ts';
import { openForeignDocument } from './open-document.ts';

/**
 * What a PDF holds behind its print, the first `printLength` bytes: nothing, signatures with their fields and the data for verifying them and nothing else, or
 * something else too.
 *
 * @throws {OutsideFailure} what `openForeignDocument` throws
 */
export async function accountForBytes(pdf: Uint8Array, printLength: number): Promise<LaterChanges> {
  return findLaterChanges(pdf, printLength, await openForeignDocument(pdf));
}

/** The lengths of the revisions of a PDF, the shortest first: where each ends. */
export function listRevisionEnds(pdf: Uint8Array): number[] {
  const file = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength);
  const ends: number[] = [];
  for (
    let at = file.indexOf('%%EOF');
    at !== -1 && ends.length < MOST_REVISIONS;
    at = file.indexOf('%%EOF', at + 5)
  ) {
    // A line end may belong to the revision.
    for (let end = at + 5; end <= Math.min(at + 7, file.length); end += 1) {
      ends.push(end);
      if (file[end] !== 0x0a && file[end] !== 0x0d) break;
    }
  }
  return ends;
}

const MOST_REVISIONS = 1000;
