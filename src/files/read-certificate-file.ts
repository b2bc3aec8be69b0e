import type { X509Certificate } from 'node:crypto';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { readAtMost } from './read-at-most.ts';
import { readCertificates } from './signer-certificate.ts';
import { wordFileError } from './word-file-error.ts';

/** Some hundred authorities of a system have a quarter of it. */
const MOST_CERTIFICATES = 1_000_000;

/**
 * The certificates of a file in PEM form, at least one.
 *
 * @throws {OutsideFailure} `certificates-unreadable`
 */
export async function readCertificateFile(path: string): Promise<readonly X509Certificate[]> {
  const bytes = await readAtMost(path, MOST_CERTIFICATES).catch((cause: unknown) => {
    throw unreadable(path, wordFileError(cause), cause);
  });
  let certificates: readonly X509Certificate[];
  try {
    certificates = readCertificates(bytes.toString());
  } catch (cause) {
    throw unreadable(path, 'a certificate in it is damaged', cause);
  }
  if (certificates.length === 0) throw unreadable(path, 'it holds no certificate in PEM form');
  return certificates;
}

/**
 * All certificates of several files as one text in PEM form; undefined where no file is named.
 *
 * @throws {OutsideFailure} `certificates-unreadable`
 */
export async function readTrustedCertificates(paths: readonly string[]): Promise<string | undefined> {
  if (paths.length === 0) return undefined;
  const files = await Promise.all(paths.map(readCertificateFile));
  return files.flat().join('\n');
}

function unreadable(path: string, reason: string, cause?: unknown): OutsideFailure {
  const message = `the certificates of ${path} cannot be used: ${reason}`;
  return new OutsideFailure('certificates-unreadable', message, { cause });
}
