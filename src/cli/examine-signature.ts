import { readSignedData } from '../cms/read-signed-data.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { type CmsVerdict, verifyCms } from '../files/verify-cms.ts';
import { type TimeStampVerdict, verifyTimeStamp } from '../files/verify-time-stamp.ts';
import { readSignedBytes } from '../pdf/insert-signature.ts';
import type { PdfSignature } from '../pdf/list-signatures.ts';

/** What a signature is held against. */
export interface Yardstick {
  /** Files of certificates that signers' certificates must lead to; none: not judged. */
  readonly trust: readonly string[];
  /** Files of certificates that those of authorities for time stamps must lead to; none: not judged. */
  readonly timeStampTrust: readonly string[];
  /** When everything is judged, `2031-05-04T09:30:00Z`. */
  readonly asOf: string;
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
): Promise<ExaminedTimeStamp> {
  const data = readSignedBytes(pdf, signature.byteRange);
  const verdict = await unlessMissing(() => verifyTimeStamp(signature.cms, data, timeStampTrust));
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
): Promise<ExaminedSignature> {
  const { trust, timeStampTrust, asOf } = yardstick;
  const { value, tokens, signingTime } = readParts(signature.cms);
  const data = readSignedBytes(pdf, signature.byteRange);
  const timeStamps: TimeStampVerdict[] = [];
  const nothing = { signature, timeStamps, validOnlyAsStated: false, signingTime, proven: undefined };
  const found = await unlessMissing(async () => {
    for (const token of tokens) timeStamps.push(await verifyTimeStamp(token, value, timeStampTrust));
    const covering = later
      .filter((one) => one.signature.revisionLength > signature.revisionLength)
      .flatMap(({ verdict }) => (typeof verdict === 'string' ? [] : [verdict]));
    const [proven] = [...timeStamps, ...covering].flatMap(provenTime).sort();
    const verdict = await verifyCms(signature.cms, data, { trust, date: proven ?? asOf });
    const dated = verdict.trust === 'not-trusted' && proven === undefined && signature.date !== null;
    const asStated = dated && (await verifyCms(signature.cms, data, { trust, date: signature.date! }));
    return { verdict, proven, validOnlyAsStated: asStated !== false && asStated.trust === 'trusted' };
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
    const { signatureValue, timeStamps, signingTime } = readSignedData(cms);
    return { value: signatureValue, tokens: timeStamps, signingTime };
  } catch {
    return { value: new Uint8Array(0), tokens: [], signingTime: undefined };
  }
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
