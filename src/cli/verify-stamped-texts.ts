import type { SignOff } from '../review/sign-off/judge-sign-offs.ts';
import { isWithdrawal } from '../review/sign-off/register-entry.ts';
import { type SignOffRecord, stampedBytes } from '../review/sign-off/sign-off-file.ts';
import type { Finding } from './finding.ts';
import { isAfter } from './signature-times.ts';
import type { GivenRegister } from './verify-issue.ts';
import { wordStamp } from './verify-times.ts';
import { collectAtHand, unlessMissing, verifyStamp, type Yardstick } from './yardstick.ts';

/** A text with its signature, and the time stamp over that (base64). */
interface StampedText {
  readonly text: string;
  readonly signature?: string;
  readonly timeStamp?: string;
}

/** What is proven of the times of the sign-offs: a finding for each that has a time stamp, or for all where the reader asked for times. */
export async function verifySignOffTimes(
  signOffs: readonly SignOff[],
  records: readonly SignOffRecord[],
  yardstick: Yardstick,
): Promise<readonly Finding[]> {
  const findings: Finding[] = [];
  for (const { role, statement } of signOffs) {
    const record = records.find((one) => one.statement === statement);
    if (statement === undefined || record === undefined) continue;
    findings.push(
      ...(await judge(`time of sign-off ${role}`, 'the sign-off', record, statement.date, yardstick)),
    );
  }
  return findings;
}

/** The same of the entry by which a revision was issued, in the register that the reader has from elsewhere. */
export async function verifyIssueTime(
  { number, revision }: { readonly number: string; readonly revision: string },
  given: GivenRegister | undefined,
  yardstick: Yardstick,
): Promise<readonly Finding[]> {
  const found = given?.entries.find(
    ({ entry }) => entry.number === number && entry.revision === revision && !isWithdrawal(entry),
  );
  if (found === undefined) return [];
  return judge('time of issue', 'the entry in the register', found, found.entry.date, yardstick);
}

async function judge(
  about: string,
  what: string,
  stamped: StampedText,
  day: string,
  yardstick: Yardstick,
): Promise<readonly Finding[]> {
  const { timeStamp } = stamped;
  if (timeStamp === undefined) {
    if (yardstick.timeStampTrust.length === 0) return [];
    const text = `${what} has no time stamp: only a clock of whoever signed says ${day}`;
    return [{ about, state: 'not proven', text }];
  }
  const atHand = await collectAtHand(yardstick, { certificates: [], revocation: [] });
  const token = new Uint8Array(Buffer.from(timeStamp, 'base64'));
  const verdict = await unlessMissing(() =>
    verifyStamp(token, stampedBytes(stamped), yardstick.timeStampTrust, atHand, yardstick.asOf),
  );
  if (typeof verdict === 'string') return [{ about, state: 'not proven', text: `not verified: ${verdict}` }];
  if (!verdict.sound) {
    return [
      { about, state: 'contradicted', text: `the time stamp of ${what} is not sound: ${verdict.reason}` },
    ];
  }
  const worded = wordStamp(verdict, `${what} existed`, yardstick.asOf);
  if (worded.state !== 'proven') return [{ about, ...worded }];
  const [stated, time] = [`${day}T00:00:00Z`, verdict.time!];
  if (isAfter(stated, time)) {
    const text = `${what} says ${day}, and existed at ${time} already`;
    return [{ about, state: 'contradicted', text }];
  }
  if (!isAfter(time, stated)) return [{ about, ...worded }];
  return [{ about, state: 'not proven', text: `that it was on ${day} is not proven: ${worded.text}` }];
}
