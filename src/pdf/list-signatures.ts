import {
  PDFArray,
  PDFDict,
  type PDFDocument,
  PDFHexString,
  PDFName,
  PDFNumber,
  type PDFObject,
  PDFString,
} from '@cantoo/pdf-lib';
import { readSequenceLength } from '../cms/ber-length.ts';
import { findLaterChanges, type LaterChanges } from './find-later-changes.ts';
import { openForeignDocument, readForeign } from './open-document.ts';
import type { ByteRange } from './prepare-signature.ts';
import { listFields, readText, takesSignature } from './signature-form.ts';
import { readValidationData, type ValidationData } from './validation-data.ts';

/** A signature in a PDF, as it says of itself; whether the CMS fits the bytes is for others to find out. */
export interface PdfSignature {
  readonly field: string;
  /** A person's signature, or a time stamp of the whole document (`/SubFilter /ETSI.RFC3161`; EN 319 142-1, recalled). */
  readonly kind: 'signature' | 'document-time-stamp';
  /** The name that the signature states; the certificate may hold another one. */
  readonly name: string | null;
  readonly reason: string | null;
  readonly location: string | null;
  /** The stated time of signing, such as `2031-05-04T09:30:00Z`. */
  readonly date: string | null;
  /** Such as "ETSI.CAdES.detached". */
  readonly format: string | null;
  readonly byteRange: ByteRange;
  /** The detached signature (RFC 5652) over `readSignedBytes(pdf, byteRange)`. */
  readonly cms: Uint8Array;
  /** Bytes of the file up to the end of what is signed: the revision that the signer saw. */
  readonly revisionLength: number;
  readonly coversWholeFile: boolean;
  /** What was appended behind the signed revision. */
  readonly later: LaterChanges;
}

/** What a PDF holds of signatures. */
export interface PdfSignatures {
  /** In the order in which they were made. */
  readonly signatures: readonly PdfSignature[];
  /** Signatures that cannot be used, each with the reason: they cover something else than they claim. */
  readonly unsound: readonly { readonly field: string; readonly reason: string }[];
  /** Names of the signature fields that wait for a signature. */
  readonly emptyFields: readonly string[];
  /** What the document carries for verifying them. */
  readonly validation: ValidationData;
}

/** Each costs a look at the revision that it covers. */
const MOST_SIGNATURES = 100;
const TOO_MANY = `it is more than the ${MOST_SIGNATURES}th`;

/**
 * The signatures of a PDF that came from anybody.
 *
 * @throws {OutsideFailure} what `openForeignDocument` throws
 */
export function listSignatures(pdf: Uint8Array): Promise<PdfSignatures> {
  return readForeign(() => readSignatures(pdf));
}

async function readSignatures(pdf: Uint8Array): Promise<PdfSignatures> {
  const document = await openForeignDocument(pdf);
  const signatures: PdfSignature[] = [];
  const unsound: { field: string; reason: string }[] = [];
  const emptyFields: string[] = [];
  for (const field of listFields(document).filter(takesSignature)) {
    const value = field.dictionary.lookup(PDFName.of('V'));
    if (!(value instanceof PDFDict)) {
      emptyFields.push(field.name);
      continue;
    }
    const read = signatures.length < MOST_SIGNATURES ? readRange(pdf, value) : TOO_MANY;
    if (typeof read === 'string') unsound.push({ field: field.name, reason: read });
    else if (signatures.some(({ byteRange }) => byteRange[1] === read.byteRange[1]))
      unsound.push({ field: field.name, reason: 'it is the signature of another field' });
    else signatures.push(await describe(pdf, document, field.name, value, read));
  }
  signatures.sort((a, b) => a.revisionLength - b.revisionLength);
  return { signatures, unsound, emptyFields, validation: readValidationData(document) };
}

interface Range {
  readonly byteRange: ByteRange;
  readonly cms: Uint8Array;
}

async function describe(
  pdf: Uint8Array,
  document: PDFDocument,
  field: string,
  value: PDFDict,
  { byteRange, cms }: Range,
): Promise<PdfSignature> {
  const text = (key: string): string | null => readText(value.lookup(PDFName.of(key))) ?? null;
  const format = readFormat(value);
  const revisionLength = byteRange[2] + byteRange[3];
  return {
    field,
    kind: format === TIME_STAMP ? 'document-time-stamp' : 'signature',
    name: text('Name'),
    reason: text('Reason'),
    location: text('Location'),
    date: readPdfDate(text('M')),
    format,
    byteRange,
    cms,
    revisionLength,
    coversWholeFile: revisionLength === pdf.length,
    later: await findLaterChanges(pdf, revisionLength, document),
  };
}

const TIME_STAMP = 'ETSI.RFC3161';
/** Formats whose signature is a detached CMS over the byte range (PDF 32000-2, 12.8.3), and time stamps. */
const FORMATS = ['ETSI.CAdES.detached', 'adbe.pkcs7.detached', TIME_STAMP];

function readFormat(value: PDFDict): string | null {
  const format = value.lookup(PDFName.of('SubFilter'));
  return format instanceof PDFName ? format.decodeText() : null;
}

/**
 * The byte range of a signature, or why it is not sound: it must leave out its own `/Contents` and nothing else, from the
 * first byte to the end of a revision. Otherwise what is signed is not what a reader shows.
 */
function readRange(pdf: Uint8Array, value: PDFDict): Range | string {
  const numbers = readNumbers(value.lookup(PDFName.of('ByteRange')));
  const contents = value.lookup(PDFName.of('Contents'));
  if (numbers === undefined) return 'it does not say which bytes it covers';
  if (!(contents instanceof PDFHexString || contents instanceof PDFString)) return 'it is empty';
  const [start, length, next, rest] = numbers;
  const end = next + rest;
  if (start !== 0 || length >= next || end > pdf.length)
    return 'it does not cover the file from its first byte';
  const gap = Buffer.from(pdf.subarray(length, next)).toString('latin1');
  const digits = /^<([0-9A-Fa-f]+)>$/.exec(gap)?.[1];
  const held = Buffer.from(contents.asBytes());
  if (digits === undefined || !Buffer.from(digits, 'hex').equals(held))
    return 'it leaves out more of the file than itself';
  if (!/%%EOF[\r\n ]*$/.test(Buffer.from(pdf.subarray(Math.max(0, end - 16), end)).toString('latin1')))
    return 'it does not cover the file up to the end of a revision';
  const size = readSequenceLength(held);
  if (size === undefined) return 'it holds no signature that can be read';
  if (held.subarray(size).some((byte) => byte !== 0)) return 'bytes are hidden behind its end';
  if (!FORMATS.includes(readFormat(value) ?? '')) return 'it is of a format that is not verified';
  if (!isNamedOnce(pdf, length, next)) return 'its dictionary says in two ways what it holds or covers';
  return { byteRange: numbers, cms: new Uint8Array(held.subarray(0, size)) };
}

/**
 * Whether the dictionary around a signature names `/Contents` and `/ByteRange` once each. Of an entry that stands twice, readers take the
 * first or the last (PDF 32000-1, 7.3.7: undefined).
 */
function isNamedOnce(pdf: Uint8Array, from: number, to: number): boolean {
  const file = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength);
  const start = Math.max(0, file.lastIndexOf(' obj', from));
  const end = file.indexOf('endobj', to);
  const text = `${file.toString('latin1', start, from)} ${file.toString('latin1', to, end === -1 ? file.length : end)}`;
  // A name may be written with codes: /Con#74ents.
  const plain = text.replace(/#([0-9A-Fa-f]{2})/g, (_, code: string) =>
    String.fromCharCode(parseInt(code, 16)),
  );
  return [/\/Contents(?![\w.-])/g, /\/ByteRange(?![\w.-])/g].every((name) => plain.match(name)?.length === 1);
}

function readNumbers(list: PDFObject | undefined): ByteRange | undefined {
  if (!(list instanceof PDFArray) || list.size() !== 4) return undefined;
  const numbers = list.asArray().map((entry) => (entry instanceof PDFNumber ? entry.asNumber() : -1));
  if (!numbers.every((number) => Number.isSafeInteger(number) && number >= 0)) return undefined;
  return numbers as [number, number, number, number];
}

/** `D:20310504093000+05'30'` (PDF 32000-1, 7.9.4) in UTC; null where it is not a whole date. */
function readPdfDate(text: string | null): string | null {
  const match = /^D:(\d{4})(\d\d)(\d\d)(\d\d)(\d\d)(\d\d)(?:Z(?:00'?00'?)?|([+-])(\d\d)'?(\d\d)'?)$/.exec(
    text ?? '',
  );
  if (match === null) return null;
  const [, year, month, day, hour, minute, second, sign, hours = '0', minutes = '0'] = match;
  const stated = Date.UTC(
    Number(year),
    Number(month) - 1,
    Number(day),
    Number(hour),
    Number(minute),
    Number(second),
  );
  const shift = (Number(hours) * 60 + Number(minutes)) * 60_000 * (sign === '-' ? -1 : 1);
  return new Date(stated - shift).toISOString().replace('.000Z', 'Z');
}
