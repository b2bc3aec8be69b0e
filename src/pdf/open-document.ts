import { EncryptedPDFError, ParseSpeeds, PDFDocument } from '@cantoo/pdf-lib';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { inflate } from './inflate.ts';
import { judgeStructure } from './judge-structure.ts';
import { quickenLibrary } from './quicken-library.ts';

/** Largest file that is read, in bytes: a note of 200 pages with its source is below 10 MB. */
export const LARGEST_FILE = 256 * 1024 * 1024;
/** Largest sum of all streams once decompressed, in bytes: guards the memory against a file made to swell. */
export const LARGEST_CONTENT = 512 * 1024 * 1024;

/** Largest file that is read although it is not built as it should be: the library looks through such a one at seconds a megabyte. */
const LARGEST_UNSOUND = 8 * 1024 * 1024;

/** Opens a PDF that the browser has just written, without changing anything in it. */
export async function openDocument(bytes: Uint8Array): Promise<PDFDocument> {
  quickenLibrary();
  let document: PDFDocument;
  try {
    document = await PDFDocument.load(bytes, {
      updateMetadata: false,
      throwOnInvalidObject: true,
      // Else it rests for a millisecond after every hundred objects, and a long note has tens of thousands.
      parseSpeed: ParseSpeeds.Fastest,
    });
    document.getPages();
  } catch (cause) {
    if (cause instanceof EncryptedPDFError || namesEncryption(bytes)) {
      throw new OutsideFailure('pdf-encrypted', 'The PDF is encrypted.', {
        hint: 'Save it without a password first.',
        cause,
      });
    }
    throw damaged(STRANGE_OBJECT, cause);
  }
  if (document.getPageCount() === 0) throw damaged('it has no page');
  return document;
}

/**
 * Opens a PDF that came from anybody.
 *
 * @throws {OutsideFailure} `pdf-not-a-pdf`, `pdf-damaged`, `pdf-encrypted`, `pdf-too-large`
 */
export async function openForeignDocument(bytes: Uint8Array): Promise<PDFDocument> {
  if (bytes.length > LARGEST_FILE) throw tooLarge();
  if (!Buffer.from(bytes.subarray(0, 1024)).includes('%PDF-')) {
    throw new OutsideFailure('pdf-not-a-pdf', 'The file is not a PDF.');
  }
  if (!Buffer.from(bytes.subarray(-1024)).includes('%%EOF')) throw damaged('its end is missing');
  if (bytes.length > LARGEST_UNSOUND) {
    const strange = judgeStructure(bytes);
    if (strange !== undefined) throw damaged(`${strange}, and it is too large to be looked through`);
  }
  guardAgainstSwelling(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength));
  return openDocument(bytes);
}

/**
 * Reads on in a PDF that came from anybody. The libraries throw errors of their own where something in it is not what it should
 * be, such as a page size that is a picture: that is the file's fault.
 *
 * @throws {OutsideFailure} `pdf-damaged`, and those that `read` throws
 */
export async function readForeign<T>(read: () => Promise<T>): Promise<T> {
  try {
    return await read();
  } catch (cause) {
    if (cause instanceof OutsideFailure) throw cause;
    throw damaged(STRANGE_OBJECT, cause);
  }
}

/**
 * The library takes an encrypted file for a damaged one where it stumbles over an object before it comes to the trailer.
 * The trailer itself is never encrypted (PDF 32000-1, 7.6.1).
 */
function namesEncryption(bytes: Uint8Array): boolean {
  return /\/Encrypt\s+\d+\s+\d+\s+R/.test(Buffer.from(bytes).toString('latin1'));
}

/** Whatever the library says of it is meant for those who program with it. */
const STRANGE_OBJECT = 'an object in it is not what it should be';

function damaged(reason: string, cause?: unknown): OutsideFailure {
  return new OutsideFailure('pdf-damaged', `The PDF is damaged: ${reason}.`, { cause });
}

function tooLarge(): OutsideFailure {
  return new OutsideFailure('pdf-too-large', 'The PDF is too large, or made to become so when it is opened.');
}

/**
 * Decompresses every stream once with a bound on the sum, before the library does so without one. A stream may be
 * compressed several times over; what no longer looks compressed is done. Each byte of the file is searched once.
 */
function guardAgainstSwelling(file: Buffer): void {
  let remaining = LARGEST_CONTENT;
  let patience = MOST_IN_VAIN;
  let end = -1;
  for (let start = file.indexOf('stream'); start !== -1; start = file.indexOf('stream', start + 6)) {
    if (file.toString('latin1', start - 3, start) === 'end') continue;
    if (end < start) end = file.indexOf('endstream', start);
    if (end === -1) end = file.length;
    let data = file.subarray(skipLineEnd(file, start + 6), end);
    for (let layer = 0; layer < 4 && looksCompressed(data); layer += 1) {
      try {
        data = inflate(data, remaining);
      } catch (error) {
        if (error instanceof RangeError) throw tooLarge();
        // Not compressed after all, or damaged: the library will say so.
        patience -= LARGEST_RATIO * data.length;
        if (patience < 0) throw tooLarge();
        break;
      }
      remaining -= data.length;
      if (remaining <= 0) throw tooLarge();
    }
  }
}

/** What zlib can make of one byte (RFC 1951: 258 bytes of two bits). */
const LARGEST_RATIO = 1032;
/** Bytes that may have been made of streams that turned out to be damaged: nobody says how many were. */
const MOST_IN_VAIN = 8 * 1024 * 1024 * 1024;

function skipLineEnd(file: Buffer, offset: number): number {
  if (file[offset] === 0x0d) return file[offset + 1] === 0x0a ? offset + 2 : offset + 1;
  return file[offset] === 0x0a ? offset + 1 : offset;
}

/** The first two bytes of zlib data (RFC 1950): method 8, and a multiple of 31 together. */
function looksCompressed(data: Buffer): boolean {
  const [first, second] = data;
  if (first === undefined || second === undefined) return false;
  return (first & 0x0f) === 8 && (first * 256 + second) % 31 === 0;
}
