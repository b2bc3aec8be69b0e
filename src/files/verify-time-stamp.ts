import { createHash, X509Certificate } from 'node:crypto';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { faultOfDigest, nodeDigest } from '../cms/digest-names.ts';
import { readTimeStamp, type TimeStampFacts } from '../cms/read-time-stamp.ts';
import { withPrivateFolder } from './private-folder.ts';
import { readTrustedCertificates } from './read-certificate-file.ts';
import { runOpenssl } from './run-openssl.ts';
import { describeCertificate, type SignerCertificate } from './signer-certificate.ts';
import { STRICTLY, wordChainError } from './verify-cms.ts';

/** What is found out about a time stamp (RFC 3161). */
export interface TimeStampVerdict {
  /** It was made over exactly these data, by the key of its certificate, which was issued for time stamps alone. */
  readonly sound: boolean;
  /** Whether that certificate leads to a trusted one, judged at the time of the stamp. */
  readonly trust: 'trusted' | 'not-trusted' | 'not-judged';
  /** Why it is not sound, or not trusted. */
  readonly reason: string | null;
  /** When it was made, such as `2031-05-04T09:30:00Z`; null where that cannot be read. */
  readonly time: string | null;
  readonly authority: SignerCertificate | null;
}

/**
 * Verifies a time stamp of data, through openssl.
 *
 * @param token the time stamp, a CMS signature in DER
 * @param trust files with the certificates (PEM) of authorities that are trusted to stamp times; none: trust is not judged
 * @throws {OutsideFailure} `openssl-missing`, `temporary-folder`, `certificates-unreadable`
 */
export async function verifyTimeStamp(
  token: Uint8Array,
  data: Uint8Array,
  trust: readonly string[] = [],
): Promise<TimeStampVerdict> {
  const trusted = await readTrustedCertificates(trust);
  const stamp = readSoundly(token, data);
  if (typeof stamp === 'string') return unsound(stamp);
  const { time, certificate } = stamp;
  if (certificate === undefined) return unsound('it does not hold the certificate of its authority');
  const own = new X509Certificate(certificate);
  const verdict = { time, authority: describeCertificate(own) };
  return withPrivateFolder(async (folder) => {
    const path = (name: string): string => join(folder, name);
    await writeFile(path('token.der'), token);
    await writeFile(path('data'), data);
    await writeFile(path('own.pem'), own.toString());
    const verify = (anchors: string, ...more: readonly string[]) =>
      runOpenssl([
        ...['ts', '-verify', '-in', path('token.der'), '-token_in', '-data', path('data')],
        ...['-CAfile', anchors, '-attime', String(Date.parse(time) / 1000), ...more],
      ]);
    const fit = await verify(path('own.pem'), '-partial_chain');
    if (fit.status !== 0) {
      return { ...verdict, sound: false, trust: 'not-judged', reason: wordFault(fit.err) };
    }
    if (stamp.accuracy > MOST_ACCURACY) {
      const reason = `the clock of its authority may be wrong by ${stamp.accuracy} s, as it says itself`;
      return { ...verdict, sound: true, trust: 'not-trusted', reason };
    }
    if (trusted === undefined) return { ...verdict, sound: true, trust: 'not-judged', reason: null };
    await writeFile(path('trust.pem'), trusted);
    const chain = await verify(path('trust.pem'), ...STRICTLY);
    return chain.status === 0
      ? { ...verdict, sound: true, trust: 'trusted', reason: null }
      : {
          ...verdict,
          sound: true,
          trust: 'not-trusted',
          reason: `it leads to no authority that is trusted (${wordFault(chain.err)})`,
        };
  });
}

/** Seconds by which the clock of an authority may be wrong: those that are run as a service promise one (common practice). */
const MOST_ACCURACY = 60;

/** What the time stamp says, or why it does not stand for these data. */
function readSoundly(token: Uint8Array, data: Uint8Array): TimeStampFacts | string {
  let stamp: TimeStampFacts;
  try {
    stamp = readTimeStamp(token);
  } catch (error) {
    return `it cannot be read as a time stamp (${(error as Error).message})`;
  }
  const { algorithm, digest } = stamp.imprint;
  const fault = faultOfDigest(algorithm) ?? faultOfDigest(stamp.digest);
  if (fault !== undefined) return fault;
  const own = createHash(nodeDigest(algorithm)).update(data).digest();
  return Buffer.compare(own, digest) === 0 ? stamp : 'it was made over something else';
}

function unsound(reason: string): TimeStampVerdict {
  return { sound: false, trust: 'not-judged', reason, time: null, authority: null };
}

/** Why openssl does not accept a time stamp. */
function wordFault(said: string): string {
  const [, purpose] = /Verify error:\s*(.*purpose.*)/i.exec(said) ?? [];
  if (purpose !== undefined) return NOT_FOR_STAMPS;
  if (/ess.*(?:signing certificate|cert(?:ificate)? id)|ess_cert_id_not_found/i.test(said))
    return 'it does not name the certificate of its authority';
  return wordChainError(said);
}

const NOT_FOR_STAMPS =
  'its certificate was not issued for time stamps alone (RFC 3161 asks for that as its only use, marked critical)';
