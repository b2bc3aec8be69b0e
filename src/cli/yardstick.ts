import { X509Certificate } from 'node:crypto';
import { judgeRevocation, type RevocationVerdict } from '../cms/judge-revocation.ts';
import { readSignedData } from '../cms/read-signed-data.ts';
import type { RevocationData } from '../cms/revocation-data.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { readCertificateFile } from '../files/read-certificate-file.ts';
import { readRevocationFile } from '../files/read-revocation-file.ts';
import { type TimeStampVerdict, verifyTimeStamp } from '../files/verify-time-stamp.ts';
import type { ValidationData } from '../pdf/validation-data.ts';

/** What signatures and time stamps are held against. */
export interface Yardstick {
  /** Files of certificates that signers' certificates must lead to; none: not judged. */
  readonly trust: readonly string[];
  /** Files of certificates that those of authorities for time stamps must lead to; none: not judged. */
  readonly timeStampTrust: readonly string[];
  /** When everything is judged, `2031-05-04T09:30:00Z`. */
  readonly asOf: string;
  /** Files that say which certificates were revoked, beside what the PDF carries. */
  readonly revocation: readonly string[];
}

/** The certificates and the word on revoked ones that are at hand. */
export interface AtHand {
  readonly trusted: readonly X509Certificate[];
  readonly certificates: readonly X509Certificate[];
  readonly revocation: readonly RevocationData[];
}

/**
 * What the reader gave and the PDF carries.
 *
 * @throws {OutsideFailure} `certificates-unreadable`, `revocation-unreadable`
 */
export async function collectAtHand(
  { trust, timeStampTrust, revocation }: Yardstick,
  carried: ValidationData,
): Promise<AtHand> {
  const trusted = await Promise.all([...trust, ...timeStampTrust].map(readCertificateFile));
  const files = await Promise.all(revocation.map(readRevocationFile));
  return {
    trusted: trusted.flat(),
    certificates: [...carried.certificates, ...files.flatMap((file) => file.certificates)],
    revocation: [...files.flatMap((file) => file.revocation), ...carried.revocation],
  };
}

/** What a signature that cannot be read lacks is found out, and told, where it is verified. */
export function readParts(cms: Uint8Array) {
  try {
    const { signatureValue, timeStamps, signingTime, certificate, certificates } = readSignedData(cms);
    return { value: signatureValue, tokens: timeStamps, signingTime, certificate, certificates };
  } catch {
    return {
      value: new Uint8Array(0),
      tokens: [],
      signingTime: undefined,
      certificate: undefined,
      certificates: [],
    };
  }
}

/** Certificates are in DER. */
export function judgeAtHand(
  certificate: Uint8Array,
  beside: readonly Uint8Array[],
  { trusted, certificates, revocation }: AtHand,
  at: string,
): RevocationVerdict {
  const [own] = parseAll([certificate]);
  if (own === undefined) return { state: 'unknown', text: 'its certificate is damaged' };
  return judgeRevocation(own, [...parseAll(beside), ...certificates], trusted, revocation, at);
}

/** Those of several certificates that can be read. */
function parseAll(certificates: readonly Uint8Array[]): X509Certificate[] {
  return certificates.flatMap((raw) => {
    try {
      return [new X509Certificate(raw)];
    } catch {
      return [];
    }
  });
}

/**
 * A time stamp, with what is known of the certificate of its authority. One that was revoked or has expired since proves no time, not even
 * an earlier one: who has the key by now makes stamps of any time.
 *
 * @param asOf at which the stamp is known to have been there: now, or the time of a later one that covers it
 */
export async function verifyStamp(
  token: Uint8Array,
  data: Uint8Array,
  trust: readonly string[],
  atHand: AtHand,
  asOf: string,
): Promise<TimeStampVerdict> {
  const verdict = await verifyTimeStamp(token, data, trust);
  const { certificate, certificates } = readParts(token);
  if (!verdict.sound || verdict.trust === 'not-trusted' || certificate === undefined) return verdict;
  const { state, text } = judgeAtHand(certificate, certificates, atHand, asOf);
  if (state === 'revoked') return { ...verdict, trust: 'not-trusted', reason: text };
  const { name, validTo } = verdict.authority!;
  if (validTo >= asOf) return verdict;
  const reason = `the certificate of ${name} was valid until ${validTo}, and no later time stamp covers this one`;
  return { ...verdict, trust: 'not-trusted', reason };
}

/** Why nothing could be found out: without openssl nothing can. */
export async function unlessMissing<T>(find: () => Promise<T>): Promise<T | string> {
  try {
    return await find();
  } catch (failure) {
    if (!(failure instanceof OutsideFailure) || failure.code !== 'openssl-missing') throw failure;
    return failure.message;
  }
}
