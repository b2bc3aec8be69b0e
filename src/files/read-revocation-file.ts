import { X509Certificate } from 'node:crypto';
import { type RevocationData, readRevocationData } from '../cms/revocation-data.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { readAtMost } from './read-at-most.ts';
import { wordFileError } from './word-file-error.ts';

export interface RevocationFile {
  readonly certificates: readonly X509Certificate[];
  readonly revocation: readonly RevocationData[];
}

/** As much as is taken of an answer, or of a list in a PDF. */
const MOST_REVOCATION = 16 * 1024 * 1024;

const BLOCK = /-----BEGIN (CERTIFICATE|X509 CRL)-----([^-]*)-----END \1-----/g;

/**
 * Reads lists of revoked certificates (DER or PEM), answers (OCSP, DER) and certificates of those who made them (PEM).
 *
 * @throws {OutsideFailure} `revocation-unreadable`
 */
export async function readRevocationFile(path: string): Promise<RevocationFile> {
  const refuse = (reason: string, cause?: unknown): OutsideFailure => {
    const message = `${path} says nothing of revoked certificates: ${reason}`;
    const hint = 'name a list of revoked certificates (PEM or DER), or an answer (OCSP, DER)';
    return new OutsideFailure('revocation-unreadable', message, { hint, cause });
  };
  let bytes: Buffer;
  try {
    bytes = await readAtMost(path, MOST_REVOCATION);
  } catch (cause) {
    throw refuse(wordFileError(cause), cause);
  }
  const blocks = [...bytes.toString('latin1').matchAll(BLOCK)];
  try {
    if (blocks.length === 0)
      return { certificates: [], revocation: [readRevocationData(new Uint8Array(bytes))] };
    const of = (kind: string): Uint8Array[] =>
      blocks
        .filter(([, name]) => name === kind)
        .map(([, , text]) => new Uint8Array(Buffer.from(text!, 'base64')));
    return {
      certificates: of('CERTIFICATE').map((one) => new X509Certificate(one)),
      revocation: of('X509 CRL').map(readRevocationData),
    };
  } catch (cause) {
    throw refuse('it is neither a list of revoked certificates nor an answer (OCSP)', cause);
  }
}
