import { PDFArray, PDFDict, type PDFDocument, PDFHexString, PDFName } from '@cantoo/pdf-lib';
import { type Attachment, attachFiles } from './attach-files.ts';
import { decodeName } from './destinations.ts';
import type { MarkedField } from './field-address.ts';
import { judgeTags } from './judge-tags.ts';
import { collectFonts, type PdfFont } from './list-fonts.ts';
import { listMissingCharacters, type MissingCharacter } from './list-missing-characters.ts';
import { markArtifacts } from './mark-artifacts.ts';
import { PACKER, type Packer } from './packer.ts';
import { readPageSigns } from './page-signs.ts';
import { openPrinted } from './read-printed.ts';
import { renumberStructure } from './renumber-structure.ts';
import { type Heading, rewriteOutline } from './rewrite-outline.ts';
import { shapeStructure } from './shape-structure.ts';
import { turnLinksIntoFields } from './turn-links-into-fields.ts';
import { writeDocument } from './write-document.ts';
import { claimAccessibility, writeMetadata } from './write-metadata.ts';
import { writeOutputIntent } from './write-output-intent.ts';

/** What the document says of itself, and what goes into the file with it. */
export interface FinishRequest {
  readonly title: string;
  readonly author: string;
  readonly subject: string;
  readonly keywords: readonly string[];
  /** The program in which the document was written. */
  readonly creator: string;
  /** The program, with its version and the browser's, that made the PDF. */
  readonly producer: string;
  /** Language tag, such as "en" or "en-IN". */
  readonly language: string;
  /** Date of creation and of all attachments: `2031-05-04` (midnight UTC) or `2031-05-04T09:30:00Z`. */
  readonly date: string;
  /** At least 32 hexadecimal digits, such as the SHA-256 of the source: they become the file's identifier. */
  readonly identity: string;
  /** The headings h1 to h6 in the order of the page, as the bookmarks should read. */
  readonly headings: readonly Heading[];
  readonly attachments?: readonly Attachment[];
  /** The HTML that was printed. */
  readonly page: string;
  /** The signature fields whose places the page marks, for people who sign in a reader. */
  readonly signatureFields?: readonly MarkedField[];
}

export interface FinishedPdf {
  readonly pdf: Uint8Array;
  readonly fonts: readonly PdfFont[];
  readonly missingCharacters: readonly MissingCharacter[];
}

/**
 * Turns what the browser printed into the document that is kept: metadata, bookmarks, attachments, and everything that
 * would differ from run to run replaced. The same arguments give the same bytes.
 *
 * It also reports the fonts and the characters without a glyph, for the caller to judge.
 *
 * @param printed as the browser wrote it, or opened: then the document is taken over and changed
 * @throws {Error} when the request is not sound (a date that is none, headings that are not those of the page, ...): a
 *   bug of ours, never of the user's
 */
export function finishPdf(printed: Uint8Array | PDFDocument, request: FinishRequest): Promise<FinishedPdf> {
  return prepareFinish(request)(printed);
}

/** As `finishPdf`, which is given back; what does not depend on the print is begun before. */
export function prepareFinish(
  request: FinishRequest,
  packer = PACKER,
): (printed: Uint8Array | PDFDocument) => Promise<FinishedPdf> {
  const { attachments = [] } = request;
  const takeAttachments = packer.pack(attachments.map(({ bytes }) => bytes));
  return (printed) => finish(printed, request, packer, takeAttachments);
}

async function finish(
  printed: Uint8Array | PDFDocument,
  request: FinishRequest,
  packer: Packer,
  takeAttachments: () => readonly Uint8Array[],
): Promise<FinishedPdf> {
  const document = printed instanceof Uint8Array ? await openPrinted(printed) : printed;
  if (!document.catalog.has(PDFName.of('StructTreeRoot'))) throw new Error('The PDF has no tags.');
  writeMetadata(document, request);
  writeOutputIntent(document);
  rewriteOutline(document, request.headings);
  const { boxes, contents } = markArtifacts(document);
  const takeContents = packer.pack([...contents.values()]);
  shapeStructure(document, readPageSigns(request.page), boxes);
  renumberStructure(document);
  sortDestinations(document);
  turnLinksIntoFields(document, request.signatureFields ?? []);
  attachFiles(document, request.attachments ?? [], takeAttachments(), request.date);
  if (judgeTags(document).length === 0) claimAccessibility(document, request);
  writeIdentity(document, request.identity);
  const fonts = collectFonts(document);
  const missingCharacters = listMissingCharacters(document, contents);
  for (const [i, stream] of [...contents.keys()].entries()) stream.updateContents(takeContents()[i]!);
  return { pdf: writeDocument(document, packer), fonts, missingCharacters };
}

/** The browser writes the destinations in the order of a hash table. */
function sortDestinations(document: PDFDocument): void {
  const destinations = document.catalog.lookup(PDFName.of('Dests'));
  if (!(destinations instanceof PDFDict)) return;
  const entries = destinations
    .entries()
    .map(([name, target]) => ({ name, target, id: decodeName(name.decodeText()) }))
    .sort((a, b) => (a.id < b.id ? -1 : 1));
  for (const { name } of entries) destinations.delete(name);
  for (const { name, target } of entries) destinations.set(name, target);
}

/** The identifier (PDF 32000-1, 14.4) is twice the same, because the file was never another. */
function writeIdentity(document: PDFDocument, identity: string): void {
  const digits = /^[0-9a-f]{32}/i.exec(identity)?.[0].toUpperCase();
  if (digits === undefined) throw new Error('The identity of a PDF needs 32 hexadecimal digits.');
  const identifier = PDFArray.withContext(document.context);
  identifier.push(PDFHexString.of(digits));
  identifier.push(PDFHexString.of(digits));
  document.context.trailerInfo.ID = identifier;
}
