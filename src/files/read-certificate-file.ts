import type { X509Certificate } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { readCertificates } from './signer-certificate.ts';
import { wordFileError } from './word-file-error.ts';

/**
 * The certificates of a file in PEM form, at least one.
 *
 * @throws {OutsideFailure} `certificates-unreadable`
 */
export async function readCertificateFile(path: string): Promise<readonly X509Certificate[]> {
  let certificates: readonly X509Certificate[];
  try {
    certificates = readCertificates(await readFile(path, 'utf8'));
  } catch (cause) {
    const ofFile = cause instanceof Error && 'syscall' in cause;
    throw unreadable(path, ofFile ? wordFileError(cause) : 'a certificate in it is damaged', cause);
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
