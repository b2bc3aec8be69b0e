import { createHash, randomBytes } from 'node:crypto';
import { encodeTimeStampRequest, readTimeStampAnswer } from '../cms/time-stamp-request.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { postTo } from './fetch-bytes.ts';
import { type TimeStampVerdict, verifyTimeStamp } from './verify-time-stamp.ts';

/** An authority that stamps times on request (RFC 3161). */
export interface TimeStampServer {
  /** Its address, `http:` or `https:`. */
  readonly url: string;
  /** Object identifier of the policy under which it is to stamp. */
  readonly policy?: string;
  /** Files with the certificates (PEM) to which its stamps must lead; none: any stamp that is sound is taken. */
  readonly certificates?: readonly string[];
  /** Seconds within which it must answer. */
  readonly patience?: number;
}

export interface TimeStamp {
  /** A CMS signature in DER. */
  readonly token: Uint8Array;
  readonly verdict: TimeStampVerdict;
}

/**
 * Has data stamped: only their SHA-256 is sent. The stamp is verified before it is returned.
 *
 * @throws {OutsideFailure} `time-stamp-server` where no answer comes, `time-stamp-answer` where it is no stamp of these data, or not by an
 *   authority that is trusted; `openssl-missing`, `temporary-folder`, `certificates-unreadable`
 */
export async function requestTimeStamp(data: Uint8Array, server: TimeStampServer): Promise<TimeStamp> {
  const request = {
    digest: createHash('sha256').update(data).digest(),
    nonce: randomBytes(8),
    ...(server.policy === undefined ? {} : { policy: server.policy }),
  };
  const answer = await postTo(server.url, encodeTimeStampRequest(request), {
    what: 'the server for time stamps',
    code: 'time-stamp-server',
    sends: 'application/timestamp-query',
    ...(server.patience === undefined ? {} : { patience: server.patience }),
  });
  const refuse = (what: string): OutsideFailure =>
    new OutsideFailure('time-stamp-answer', `the answer of ${server.url} ${what}`, {
      hint: 'nothing was written; name another server for time stamps, or leave it out',
    });
  let token: Uint8Array;
  try {
    token = readTimeStampAnswer(answer, request);
  } catch (error) {
    throw refuse((error as Error).message);
  }
  const verdict = await verifyTimeStamp(token, data, server.certificates);
  if (!verdict.sound) throw refuse(`is no time stamp that proves anything: ${verdict.reason}`);
  if (verdict.trust === 'not-trusted') {
    throw refuse(`is a time stamp of somebody else: ${verdict.reason}`);
  }
  return { token, verdict };
}
