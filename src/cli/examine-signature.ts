import type { RevocationVerdict } from '../cms/judge-revocation.ts';
import { type CmsVerdict, verifyCms } from '../files/verify-cms.ts';
import type { TimeStampVerdict } from '../files/verify-time-stamp.ts';
import { readSignedBytes } from '../pdf/insert-signature.ts';
import type { PdfSignature } from '../pdf/list-signatures.ts';
import {
  type AtHand,
  judgeAtHand,
  readParts,
  unlessMissing,
  verifyStamp,
  type Yardstick,
} from './yardstick.ts';

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
  /** Field of the time stamp of the document that proves it, where none of its own does. */
  readonly provenBy: string | undefined;
  /** Whether its certificate was revoked then; undefined where that could not be found out. */
  readonly revocation: RevocationVerdict | undefined;
}

export interface ExaminedTimeStamp {
  readonly signature: PdfSignature;
  readonly verdict: TimeStampVerdict | string;
}

/**
 * The time stamps of the whole document, the latest first: each covers all signatures and stamps before it, which are known to have been
 * there at its time.
 */
export async function examineDocumentTimeStamps(
  pdf: Uint8Array,
  signatures: readonly PdfSignature[],
  yardstick: Yardstick,
  atHand: AtHand,
): Promise<readonly ExaminedTimeStamp[]> {
  const examined: ExaminedTimeStamp[] = [];
  for (const signature of [...signatures].sort((a, b) => b.revisionLength - a.revisionLength)) {
    const data = readSignedBytes(pdf, signature.byteRange);
    const asOf = knownSince(examined)?.time ?? yardstick.asOf;
    const verdict = await unlessMissing(() =>
      verifyStamp(signature.cms, data, yardstick.timeStampTrust, atHand, asOf),
    );
    examined.push({ signature, verdict });
  }
  return examined;
}

/** The earliest time that time stamps prove, and the field of the one that does; undefined where they prove none. */
function knownSince(
  stamps: readonly ExaminedTimeStamp[],
): { readonly time: string; readonly field: string } | undefined {
  return stamps
    .flatMap(({ signature: { field }, verdict }) =>
      (typeof verdict === 'string' ? [] : provenTime(verdict)).map((time) => ({ time, field })),
    )
    .sort((a, b) => (a.time < b.time ? -1 : 1))[0];
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
    provenBy: undefined,
    revocation: undefined,
  };
  const covered = knownSince(later.filter((one) => one.signature.revisionLength > signature.revisionLength));
  const found = await unlessMissing(async () => {
    if (tokens.length > MOST_STAMPS) timeStamps.push(TOO_MANY);
    for (const token of tokens.slice(0, MOST_STAMPS))
      timeStamps.push(await verifyStamp(token, value, timeStampTrust, atHand, covered?.time ?? asOf));
    const [own] = timeStamps.flatMap(provenTime).sort();
    const byDocument = covered !== undefined && (own === undefined || covered.time < own);
    const proven = byDocument ? covered.time : own;
    const provenBy = byDocument ? covered.field : undefined;
    const verdict = await verifyCms(signature.cms, data, { trust, date: proven ?? asOf });
    const dated = verdict.trust === 'not-trusted' && proven === undefined && signature.date !== null;
    const asStated = dated && (await verifyCms(signature.cms, data, { trust, date: signature.date! }));
    const validOnlyAsStated = asStated !== false && asStated.trust === 'trusted';
    const revocation = certificate && judgeAtHand(certificate, certificates, atHand, proven ?? asOf);
    return { verdict, proven, provenBy, validOnlyAsStated, revocation };
  });
  return typeof found === 'string' ? { ...nothing, verdict: found } : { ...nothing, ...found };
}

/** Each costs a look; a signature has one, or some more where it was kept for long. */
const MOST_STAMPS = 10;
const TOO_MANY: TimeStampVerdict = {
  sound: false,
  trust: 'not-judged',
  reason: `it is more than the ${MOST_STAMPS}th`,
  time: null,
  authority: null,
};

/** The time that a stamp proves. */
function provenTime({ sound, trust, time }: TimeStampVerdict): string[] {
  return sound && trust === 'trusted' && time !== null ? [time] : [];
}
