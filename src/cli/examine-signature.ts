import { X509Certificate } from 'node:crypto';
import { judgeRevocation, type RevocationVerdict } from '../cms/judge-revocation.ts';
import { readSignedData } from '../cms/read-signed-data.ts';
import type { RevocationData } from '../cms/revocation-data.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { readCertificateFile } from '../files/read-certificate-file.ts';
import { readRevocationFile } from '../files/read-revocation-file.ts';
import { type CmsVerdict, verifyCms } from '../files/verify-cms.ts';
import { type TimeStampVerdict, verifyTimeStamp } from '../files/verify-time-stamp.ts';
import { readSignedBytes } from '../pdf/insert-signature.ts';
import type { PdfSignature } from '../pdf/list-signatures.ts';
import type { ValidationData } from '../pdf/validation-data.ts';

/** What a signature is held against. */
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

export interface ExaminedSignature {
  readonly signature: PdfSignature;
  /** A text says why nothing was found out. */
  readonly verdict: CmsVerdict | string;
  /** Time stamps of the signature. */
  readonly timeStamps: readonly TimeStampVerdict[];
  /** Its certificate was valid at the time that it states, and nothing proves that it was made then. */
  readonly validOnlyAsStated: boolean;
  readonly signingTime: string | undefined;
  /** Before which it is proven to have been made. */
  readonly proven: string | undefined;
  /** Whether its certificate was revoked then; undefined where that could not be found out. */
  readonly revocation: RevocationVerdict | undefined;
}

export interface ExaminedTimeStamp {
  readonly signature: PdfSignature;
  readonly verdict: TimeStampVerdict | string;
}

/** A time stamp of the whole document, which covers all signatures before it. */
export async function examineDocumentTimeStamp(
  pdf: Uint8Array,
  signature: PdfSignature,
  { timeStampTrust }: Yardstick,
  atHand: AtHand,
): Promise<ExaminedTimeStamp> {
  const data = readSignedBytes(pdf, signature.byteRange);
  const verdict = await unlessMissing(() => verifyStamp(signature.cms, data, timeStampTrust, atHand));
  return { signature, verdict };
}

/**
 * Examines a signature: its certificate is judged at the time before which it is proven to have been made, else now.
 *
 * @param later time stamps of the document behind it
 */
export async function examineSignature(
  pdf: Uint8Array,
  signature: PdfSignature,
  yardstick: Yardstick,
  later: readonly ExaminedTimeStamp[],
  atHand: AtHand,
): Promise<ExaminedSignature> {
  const { trust, timeStampTrust, asOf } = yardstick;
  const { value, tokens, signingTime, certificate, certificates } = readParts(signature.cms);
  const data = readSignedBytes(pdf, signature.byteRange);
  const timeStamps: TimeStampVerdict[] = [];
  const nothing = {
    signature,
    timeStamps,
    validOnlyAsStated: false,
    signingTime,
    proven: undefined,
    revocation: undefined,
  };
  const found = await unlessMissing(async () => {
    for (const token of tokens) timeStamps.push(await verifyStamp(token, value, timeStampTrust, atHand));
    const covering = later
      .filter((one) => one.signature.revisionLength > signature.revisionLength)
      .flatMap(({ verdict }) => (typeof verdict === 'string' ? [] : [verdict]));
    const [proven] = [...timeStamps, ...covering].flatMap(provenTime).sort();
    const verdict = await verifyCms(signature.cms, data, { trust, date: proven ?? asOf });
    const dated = verdict.trust === 'not-trusted' && proven === undefined && signature.date !== null;
    const asStated = dated && (await verifyCms(signature.cms, data, { trust, date: signature.date! }));
    const validOnlyAsStated = asStated !== false && asStated.trust === 'trusted';
    const revocation = certificate && judgeAtHand(certificate, certificates, atHand, proven ?? asOf);
    return { verdict, proven, validOnlyAsStated, revocation };
  });
  return typeof found === 'string' ? { ...nothing, verdict: found } : { ...nothing, ...found };
}

/** The time that a stamp proves. */
function provenTime({ sound, trust, time }: TimeStampVerdict): string[] {
  return sound && trust === 'trusted' && time !== null ? [time] : [];
}

/** What a signature that cannot be read lacks is found out, and told, where it is verified. */
function readParts(cms: Uint8Array) {
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
function judgeAtHand(
  certificate: Uint8Array,
  beside: readonly Uint8Array[],
  { trusted, certificates, revocation }: AtHand,
  at: string,
): RevocationVerdict {
  const [own, ...others] = [certificate, ...beside].map((raw) => new X509Certificate(raw));
  return judgeRevocation(own!, [...others, ...certificates], trusted, revocation, at);
}

/**
 * A time stamp, with what is known of the certificate of its authority. One that was revoked proves no time, not even an earlier one: who has
 * the key makes stamps of any time.
 */
async function verifyStamp(
  token: Uint8Array,
  data: Uint8Array,
  trust: readonly string[],
  atHand: AtHand,
): Promise<TimeStampVerdict> {
  const verdict = await verifyTimeStamp(token, data, trust);
  const { certificate, certificates } = readParts(token);
  if (!verdict.sound || verdict.time === null || certificate === undefined) return verdict;
  const { state, text } = judgeAtHand(certificate, certificates, atHand, verdict.time);
  return state === 'revoked' || state === 'later'
    ? { ...verdict, trust: 'not-trusted', reason: text }
    : verdict;
}

/** Why nothing could be found out: without openssl nothing can. */
async function unlessMissing<T>(find: () => Promise<T>): Promise<T | string> {
  try {
    return await find();
  } catch (failure) {
    if (!(failure instanceof OutsideFailure) || failure.code !== 'openssl-missing') throw failure;
    return failure.message;
  }
}
