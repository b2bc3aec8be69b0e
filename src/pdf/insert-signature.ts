import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { ByteRange, PreparedSignature } from './prepare-signature.ts';

/** The bytes that a signature covers, in one piece: this is what is to be signed, and what a signature is verified against. */
export function readSignedBytes(pdf: Uint8Array, byteRange: ByteRange): Uint8Array {
  const [start, length, next, rest] = byteRange;
  return Buffer.concat([pdf.subarray(start, start + length), pdf.subarray(next, next + rest)]);
}

/**
 * Puts a detached CMS signature (RFC 5652, DER) over `readSignedBytes` into its place.
 *
 * @throws {OutsideFailure} `signature-too-large` where the signature does not fit into the room that was kept for it
 */
export function insertSignature(prepared: PreparedSignature, cms: Uint8Array): Uint8Array {
  const { bytes, byteRange } = prepared;
  const [, start, end] = byteRange;
  const room = (end - start - 2) / 2;
  if (cms.length > room) {
    throw new OutsideFailure(
      'signature-too-large',
      `the signature has ${cms.length} bytes, and ${room} were kept free for it in the PDF`,
      { hint: 'leave certificates out of it that a reader has anyway, or keep more room free' },
    );
  }
  const signed = Buffer.from(bytes);
  if (!/^<0+>$/.test(signed.subarray(start, end).toString('latin1')))
    throw new Error('The PDF has no empty signature at the byte range.');
  signed.write(Buffer.from(cms).toString('hex'), start + 1, 'latin1');
  return new Uint8Array(signed.buffer, signed.byteOffset, signed.length);
}
