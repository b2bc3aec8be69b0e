import {
  decodePDFRawStream,
  PDFDict,
  PDFDocument,
  PDFName,
  PDFNumber,
  PDFRawStream,
  PDFRef,
} from '@cantoo/pdf-lib';
import { type ReferenceSection, readSections, readStart } from './cross-references.ts';
import { describeChanges } from './describe-changes.ts';
import { listEmptyAppearances, listFields, takesSignature } from './signature-form.ts';
import { readValidationData } from './validation-data.ts';

/** What stands behind a signed revision: nothing, further signatures with the data for verifying them and nothing else, or something else too. */
export interface LaterChanges {
  readonly kind: 'none' | 'signatures' | 'other';
  /** What else was changed, such as "page 3" or "attachments"; empty for the first two kinds. */
  readonly what: readonly string[];
}

const NOT_UNDERSTOOD: LaterChanges = { kind: 'other', what: ['the structure of the file'] };

/**
 * Finds out what was appended to a PDF (`after`, opened) behind its first `end` bytes, which are a revision of it. Appending is permitted
 * by the format and leaves a signature valid by itself, but may change what a reader shows. Only what is certain to be
 * further signatures counts as such: their dictionaries, fields that show nothing of their own on a page, and data for verifying them.
 */
export async function findLaterChanges(
  pdf: Uint8Array,
  end: number,
  after: PDFDocument,
): Promise<LaterChanges> {
  if (pdf.length === end) return { kind: 'none', what: [] };
  const revision = pdf.subarray(0, end);
  const sections = readSections(pdf, end);
  const signed = sections?.at(-1);
  if (sections === undefined || signed?.offset !== readStart(revision)) return NOT_UNDERSTOOD;
  const before = await PDFDocument.load(revision, { updateMetadata: false });
  const later = sections.slice(0, -1).reverse();
  const { Root, Info } = before.context.trailerInfo;
  if (later.some((section) => section.root !== Root?.toString())) return NOT_UNDERSTOOD;
  let from = end;
  const changed = new Set<number>();
  for (const section of later) {
    const to = sectionEnd(pdf, section.offset);
    const defined = listDefinitions(after, pdf.subarray(from, to), from, section);
    if (defined === undefined || !freesNothing(before, section)) return NOT_UNDERSTOOD;
    for (const number of defined) changed.add(number);
    from = to;
  }
  // Whatever follows the last section belongs to none: no reader of PDFs looks at it.
  if (!/^[\r\n ]*$/.test(Buffer.from(pdf.subarray(from)).toString('latin1'))) {
    return { kind: 'other', what: ['bytes that belong to no revision'] };
  }
  const what = describeChanges(before, after, changed);
  if (later.some((section) => section.information !== Info?.toString())) what.push('the metadata');
  const signsNothing = later.length > 0 && countAdditions(after) <= countAdditions(before);
  if (what.length === 0 && signsNothing) what.push('a revision that signs nothing');
  return what.length === 0 ? { kind: 'signatures', what } : { kind: 'other', what };
}

/** Signatures, and data for verifying them. */
function countAdditions(document: PDFDocument): number {
  const signed = listFields(document).filter(
    (field) => takesSignature(field) && field.dictionary.lookup(PDFName.of('V')) instanceof PDFDict,
  );
  const { certificates, revocation } = readValidationData(document);
  return signed.length + certificates.length + revocation.length;
}

/** The end of the revision whose cross-references stand at an offset. */
function sectionEnd(pdf: Uint8Array, offset: number): number {
  const at = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength).indexOf('%%EOF', offset);
  return at === -1 ? pdf.length : at + '%%EOF'.length;
}

/**
 * Numbers of the objects that a revision defines. Undefined where the revision's cross-references and the objects that
 * stand in it are not the same ones: then two readers of the file may see different things, and this one reads the
 * objects in the order of the file.
 */
function listDefinitions(
  document: PDFDocument,
  part: Uint8Array,
  from: number,
  section: ReferenceSection,
): Set<number> | undefined {
  const expected = new Map<string, number>();
  for (const [number, entry] of section.entries) {
    if (entry.kind === 'plain') expected.set(`${number} ${entry.generation} at ${entry.offset}`, number);
    else if (entry.kind === 'packed') expected.set(`${number} in ${entry.stream}`, number);
  }
  const text = Buffer.from(part.buffer, part.byteOffset, part.byteLength).toString('latin1');
  const heads = [...text.matchAll(/(?<![\d.])(\d+)\s+(\d+)\s+obj\b/g)];
  // A head with a comment or the like in it is one for the library, too.
  if (heads.length !== (text.match(/[\d\s\0]obj/g) ?? []).length) return undefined;
  const found = heads.flatMap(({ index, 1: number, 2: generation }) => [
    `${Number(number)} ${Number(generation)} at ${from + index}`,
    ...listPacked(document, Number(number)).map((packed) => `${packed} in ${Number(number)}`),
  ]);
  const same =
    found.length === expected.size &&
    new Set(found).size === found.length &&
    found.every((one) => expected.has(one)) &&
    new Set(expected.values()).size === expected.size;
  return same ? new Set(expected.values()) : undefined;
}

/**
 * True where a revision gives up only objects that show nothing: older sections of cross-references, and appearances of
 * fields that were empty.
 */
function freesNothing(before: PDFDocument, section: ReferenceSection): boolean {
  const appearances = listEmptyAppearances(before);
  return [...section.entries].every(([number, entry]) => {
    const reference = PDFRef.of(number);
    if (entry.kind !== 'free' || appearances.has(reference)) return true;
    const old = before.context.lookup(reference);
    const type = old instanceof PDFRawStream ? old.dict.lookup(PDFName.of('Type')) : undefined;
    return old === undefined || type === PDFName.of('XRef');
  });
}

/** Numbers of the objects that a stream of objects holds (PDF 32000-1, 7.5.7); none where it is another object. */
function listPacked(document: PDFDocument, number: number): number[] {
  const stream = document.context.lookup(PDFRef.of(number));
  if (!(stream instanceof PDFRawStream) || stream.dict.lookup(PDFName.of('Type')) !== PDFName.of('ObjStm'))
    return [];
  const count = stream.dict.lookup(PDFName.of('N'), PDFNumber).asNumber();
  const content = Buffer.from(decodePDFRawStream(stream).decode()).toString('latin1');
  const numbers = content.trimStart().split(/\s+/, 2 * count);
  return numbers.filter((_, index) => index % 2 === 0).map(Number);
}
