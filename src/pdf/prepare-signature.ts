import {
  PDFDict,
  type PDFDocument,
  PDFHexString,
  PDFInvalidObject,
  PDFName,
  type PDFRef,
} from '@cantoo/pdf-lib';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { openForAppending, saveAppended } from './append-revision.ts';
import { readForeign } from './open-document.ts';
import {
  addField,
  describeField,
  listFields,
  requireForm,
  setFlags,
  takesSignature,
} from './signature-form.ts';
import { formatPdfDate, readDate } from './write-metadata.ts';

/** A signature as it is going to stand in the PDF. What it says of itself is covered by it. */
export interface SignatureRequest {
  /** Name of an empty signature field; where there is none, an invisible field of that name is made. */
  readonly field: string;
  /** Who signs. */
  readonly name: string;
  /** Such as "Checked: line by line". */
  readonly reason: string;
  /** The time of signing as the signer states it: `2031-05-04` (midnight UTC) or `2031-05-04T09:30:00Z`. */
  readonly date: string;
  readonly location?: string;
  /** Bytes that are kept free for the signature with its certificates. */
  readonly room?: number;
}

/** Offset and length of the two stretches of the file that are signed: before the signature and behind it. */
export type ByteRange = readonly [number, number, number, number];

/** A PDF that waits for its signature. */
export interface PreparedSignature {
  readonly bytes: Uint8Array;
  readonly byteRange: ByteRange;
}

/** A signature of one key of 4096 bits with three certificates has about 8000 bytes. */
const USUAL_ROOM = 16_384;
/** Digits of each number of the byte range; the blanks behind shorter ones are filled later. */
const DIGITS = 10;
const OPEN_RANGE = `/ByteRange [0 ${Array(3).fill('0'.repeat(DIGITS)).join(' ')}]`;

/**
 * Appends a signature that is still empty, as an incremental update: all bytes that were there stay as they are, so that
 * earlier signatures remain valid (PDF 32000-1, 12.8).
 *
 * @throws {OutsideFailure} `signature-field` when the field is signed already or is none for signatures, and what
 *   `openForeignDocument` throws
 */
export function prepareSignature(pdf: Uint8Array, request: SignatureRequest): Promise<PreparedSignature> {
  return readForeign(() => appendSignature(pdf, request));
}

async function appendSignature(pdf: Uint8Array, request: SignatureRequest): Promise<PreparedSignature> {
  const room = request.room ?? USUAL_ROOM;
  return appendEmpty(pdf, request.field, room, describeSignature(request, room));
}

/**
 * Appends a time stamp of the whole document that is still empty (EN 319 142-1, recalled), as `prepareSignature` does a signature; the time
 * stamp over `readSignedBytes` is put in by `insertSignature`.
 *
 * @throws {OutsideFailure} as `prepareSignature`
 */
export function prepareDocumentTimeStamp(
  pdf: Uint8Array,
  field: string,
  room = USUAL_ROOM,
): Promise<PreparedSignature> {
  const dictionary = `<<
/Type /DocTimeStamp
/Filter /Adobe.PPKLite
/SubFilter /ETSI.RFC3161
${OPEN_RANGE}
/Contents <${'00'.repeat(room)}>
>>`;
  return readForeign(() => appendEmpty(pdf, field, room, Buffer.from(dictionary, 'latin1')));
}

async function appendEmpty(
  pdf: Uint8Array,
  field: string,
  room: number,
  dictionary: Uint8Array,
): Promise<PreparedSignature> {
  const document = await openForAppending(pdf);
  fillField(document, field, document.context.register(PDFInvalidObject.of(dictionary)));
  setFlags(requireForm(document), 1 + 2);
  return closeRange(await saveAppended(document, pdf), pdf.length, room);
}

/** The signature dictionary (PDF 32000-1, table 252), with zeros where the signature is going to be. */
function describeSignature(request: SignatureRequest, room: number): Uint8Array {
  const text = (key: string, value: string | undefined): string =>
    value === undefined ? '' : `/${key} ${PDFHexString.fromText(value).toString()}\n`;
  const dictionary = `<<
/Type /Sig
/Filter /Adobe.PPKLite
/SubFilter /ETSI.CAdES.detached
${OPEN_RANGE}
/Contents <${'00'.repeat(room)}>
/M (${formatPdfDate(readDate(request.date))})
${text('Name', request.name)}${text('Reason', request.reason)}${text('Location', request.location)}>>`;
  return Buffer.from(dictionary, 'latin1');
}

function fillField(document: PDFDocument, name: string, value: PDFRef): void {
  const present = listFields(document).find((field) => field.name === name);
  if (present === undefined) {
    if (name === '' || name.includes('.')) throw new Error(`A field cannot have the name "${name}".`);
    const page = document.getPage(0);
    const field = describeField(document, name, page.ref, [0, 0, 0, 0]);
    field.set(PDFName.of('V'), value);
    addField(document, page.node, document.context.register(field));
    return;
  }
  if (!takesSignature(present)) throw unfit(`the field "${name}" of the PDF is not one for a signature`);
  if (present.dictionary.lookup(PDFName.of('V')) instanceof PDFDict)
    throw unfit(`the field "${name}" of the PDF is signed already`);
  present.dictionary.set(PDFName.of('V'), value);
}

/** Writes the byte range, which is known only now. */
function closeRange(bytes: Uint8Array, from: number, room: number): PreparedSignature {
  const file = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const range = file.indexOf(OPEN_RANGE, from);
  const start = file.indexOf('/Contents <', range) + '/Contents '.length;
  const end = start + 2 * room + 2;
  if (range === -1 || file[start] !== 0x3c || file[end - 1] !== 0x3e)
    throw new Error('The empty signature is not in the PDF.');
  const byteRange: ByteRange = [0, start, end, file.length - end];
  const written = `/ByteRange [${byteRange.join(' ')}]`;
  file.write(written.padEnd(OPEN_RANGE.length), range, 'latin1');
  return { bytes, byteRange };
}

function unfit(reason: string): OutsideFailure {
  return new OutsideFailure('signature-field', `The PDF cannot be signed: ${reason}.`);
}
