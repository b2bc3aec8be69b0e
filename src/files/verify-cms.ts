import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { faultOfDigest } from '../cms/digest-names.ts';
import { readSignedData } from '../cms/read-signed-data.ts';
import { withPrivateFolder } from './private-folder.ts';
import { readTrustedCertificates } from './read-certificate-file.ts';
import { runOpenssl, wordOpensslError } from './run-openssl.ts';
import { describeCertificate, readCertificates, type SignerCertificate } from './signer-certificate.ts';

export interface VerifyRequest {
  /** Files with the certificates (PEM) that are trusted: of an authority, or of a signer. None: trust is not judged. */
  readonly trust?: readonly string[];
  /**
   * The time at which the certificates must be valid, `2031-05-04T09:30:00Z`; midnight, or a date alone, stands for some
   * time of that day. Without it, now.
   */
  readonly date?: string;
}

/** What is found out about a detached CMS signature (RFC 5652). Whether a certificate was revoked is not looked at here. */
export interface CmsVerdict {
  /** The signature was made over exactly these data, with the key of the certificate that it holds. */
  readonly intact: boolean;
  /** Whether the certificate leads to a trusted one. */
  readonly trust: 'trusted' | 'not-trusted' | 'not-judged';
  /** Why it is not intact, or not trusted. */
  readonly reason: string | null;
  /** The signature covers its own certificate too, as CAdES asks (RFC 5035). */
  readonly coversCertificate: boolean;
  readonly signer: SignerCertificate | null;
}

/**
 * Verifies a detached CMS signature over data, through openssl.
 *
 * @throws {OutsideFailure} `openssl-missing`, `temporary-folder`, `certificates-unreadable`
 */
export async function verifyCms(
  cms: Uint8Array,
  data: Uint8Array,
  request: VerifyRequest = {},
): Promise<CmsVerdict> {
  const trusted = await readTrustedCertificates(request.trust ?? []);
  return withPrivateFolder(async (folder) => {
    const [signature, content, signer] = ['signature.der', 'content', 'signer.pem'].map((name) =>
      join(folder, name),
    ) as [string, string, string];
    await Promise.all([writeFile(signature, cms), writeFile(content, data)]);
    const verify = (...more: readonly string[]) =>
      runOpenssl([
        ...['cms', '-verify', '-binary', '-inform', 'DER', '-in', signature, '-content', content],
        ...['-out', join(folder, 'out'), ...more],
      ]);
    const fit = await verify('-noverify', '-signer', signer);
    if (fit.status !== 0) return broken(wordFault(fit.err));
    const certificates = readCertificates(await readFile(signer, 'utf8'));
    const fault = findFault(cms);
    if (fault !== undefined) return broken(fault);
    const verdict: CmsVerdict = {
      intact: true,
      trust: 'not-judged',
      reason: null,
      coversCertificate:
        readSignedData(cms).namesCertificate &&
        (await verify('-cades', '-CAfile', signer, ...AS_IF_TRUSTED)).status === 0,
      signer: describeCertificate(certificates[0]!),
    };
    if (trusted === undefined) return verdict;
    await writeFile(join(folder, 'trust.pem'), trusted);
    const reasons: string[] = [];
    for (const time of listTimes(request.date)) {
      const trusting = ['-CAfile', join(folder, 'trust.pem'), '-no-CApath', '-no-CAstore', ...STRICTLY];
      const chain = await verify(...trusting, '-purpose', 'any', ...time);
      if (chain.status === 0) return { ...verdict, trust: 'trusted' };
      reasons.push(wordChainError(chain.err));
    }
    return { ...verdict, trust: 'not-trusted', reason: reasons.at(-1) ?? null };
  });
}

/** The attribute of the certificate is looked at where a chain is built, here that of the signer alone; without attributes nothing is. */
const AS_IF_TRUSTED = [
  ...['-no-CApath', '-no-CAstore', '-partial_chain'],
  ...['-no_check_time', '-purpose', 'any'],
];

/** Whoever is trusted may stand anywhere in the chain; keys and digests in it have 112 bits of strength at least (SP 800-131A). */
export const STRICTLY = ['-partial_chain', '-auth_level', '2'];

/** What is wrong with a signature that fits. One signer each: of several, it could not be said which is meant (PDF 32000-1, 12.8.3.3). */
function findFault(cms: Uint8Array): string | undefined {
  try {
    const { digest, content } = readSignedData(cms);
    // Readers could take it for what was signed.
    if (content !== undefined) return 'it holds a content of its own beside what it signs';
    return faultOfDigest(digest);
  } catch (error) {
    return (error as Error).message;
  }
}

function broken(reason: string): CmsVerdict {
  return { intact: false, trust: 'not-judged', reason, coversCertificate: false, signer: null };
}

function wordFault(said: string): string {
  if (/verify_content:verification failure/i.test(said))
    return 'the signed bytes are not those that were signed';
  if (/:verification failure/i.test(said)) return 'it was not made with the key of its certificate';
  if (/signer certificate not found/i.test(said)) return 'it does not hold the certificate of its key';
  return `it cannot be read as a signature (${wordOpensslError(said)})`;
}

/** Arguments for the times at which the certificates may be judged: one, or both ends of a day. */
function listTimes(date: string | undefined): string[][] {
  if (date === undefined) return [[]];
  const [, day] = /^(\d{4}-\d{2}-\d{2})(?:T00:00:00Z)?$/.exec(date) ?? [];
  const times = day === undefined ? [date] : [`${day}T00:00:00Z`, `${day}T23:59:59Z`];
  return times.map((time) => ['-attime', String(Math.floor(new Date(time).getTime() / 1000))]);
}

/** Why no chain of certificates leads to a trusted one, as openssl puts it: "certificate has expired". */
export function wordChainError(said: string): string {
  return /Verify error:\s*(.+)/.exec(said)?.[1]?.trim() ?? wordOpensslError(said);
}
