import type { SignerCertificate } from '../files/signer-certificate.ts';
import type { TimeStampVerdict } from '../files/verify-time-stamp.ts';
import type { ExaminedSignature, ExaminedTimeStamp } from './examine-signature.ts';
import type { Finding } from './finding.ts';
import { isAfter } from './signature-times.ts';
import type { Yardstick } from './yardstick.ts';

type Judgement = Pick<Finding, 'state' | 'text' | 'notAsked'>;

/**
 * What is proven of the time of a signature: a finding where it has a time stamp, or where the reader gave certificates for time stamps and
 * so asked.
 */
export function findSignatureTime(
  { signature, timeStamps, proven, provenBy, verdict }: ExaminedSignature,
  { timeStampTrust, asOf }: Yardstick,
): readonly Finding[] {
  const about = `time of signature ${signature.field}`;
  const asked = timeStampTrust.length > 0;
  if (typeof verdict === 'string') return [];
  const unsound = timeStamps.find(({ sound }) => !sound);
  if (unsound !== undefined) {
    const text = `a time stamp of the signature is not sound: ${unsound.reason}`;
    return [{ about, state: 'contradicted', text }];
  }
  if (provenBy !== undefined) {
    const text = `the time stamp '${provenBy}' of the document proves that it existed at ${proven}`;
    return [{ about, state: 'proven', text }];
  }
  const best = timeStamps.find(({ time }) => time === proven) ?? timeStamps[0];
  if (best !== undefined) return [{ about, ...wordStamp(best, 'the signature existed', asOf) }];
  if (!asked) return [];
  return [
    {
      about,
      state: 'not proven',
      text: 'it has no time stamp: only the clock of the signer says when it was made',
    },
  ];
}

/** What a time stamp of the whole document proves. */
export function findDocumentTime({ signature, verdict }: ExaminedTimeStamp, { asOf }: Yardstick): Finding {
  const about = `time stamp ${signature.field}`;
  if (typeof verdict === 'string') return { about, state: 'not proven', text: `not verified: ${verdict}` };
  if (!verdict.sound) {
    return { about, state: 'contradicted', text: `the time stamp is not sound: ${verdict.reason}` };
  }
  const { later } = signature;
  if (later.kind === 'other') {
    const text = `the PDF was changed after it was stamped: ${later.what.join(', ')}`;
    return { about, state: 'contradicted', text };
  }
  return { about, ...wordStamp(verdict, 'the document up to this stamp existed', asOf) };
}

/** What a sound time stamp proves, for a finding; one of later than the verification proves that a clock is wrong. */
export function wordStamp(
  { trust, time, reason, authority }: TimeStampVerdict,
  what: string,
  asOf: string,
): Judgement {
  const by = wordAuthority(authority);
  if (trust === 'trusted' && time !== null && isAfter(time, asOf)) {
    const text = `its time stamp is of ${time}, which is after the day of this verification`;
    return { state: 'not proven', text };
  }
  if (trust === 'trusted') {
    return {
      state: 'proven',
      text: `${what} at ${time}, says ${by}, an authority for time stamps that was given as trusted`,
    };
  }
  return trust === 'not-judged'
    ? {
        state: 'not proven',
        text: `${what} at ${time}, says ${by}; whether that authority can be trusted was not judged: --time-stamp-trust FILE`,
        notAsked: true,
      }
    : {
        state: 'not proven',
        text: `a time stamp of ${time} by ${by} proves no time: ${reason}`,
      };
}

function wordAuthority(authority: SignerCertificate | null): string {
  return authority === null ? 'an unknown authority' : `${authority.name} (issued by ${authority.issuer})`;
}
