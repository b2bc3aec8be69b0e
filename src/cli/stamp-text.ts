import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { requestTimeStamp, type TimeStampServer } from '../files/request-time-stamp.ts';
import { stampedBytes } from '../review/sign-off/sign-off-file.ts';
import { apart } from './signature-times.ts';

/**
 * A time stamp of a sign-off or of an entry of the register: of its signature, else of its text. In base64.
 *
 * @param day that it states, `2031-05-14`: it must be that of the stamp
 * @throws {OutsideFailure} `signing-date`; what `requestTimeStamp` throws
 */
export async function stampText(
  signed: { readonly text: string; readonly signature?: string },
  day: string,
  server: TimeStampServer,
  tell: (line: string) => void,
): Promise<string> {
  tell(`asks ${server.url} for a time stamp`);
  const { token, verdict } = await requestTimeStamp(stampedBytes(signed), server);
  refuseOtherDay(day, verdict.time!, 'its time stamp is of');
  return Buffer.from(token).toString('base64');
}

/**
 * The day that is stated must be that of a time that something else states.
 *
 * @param stated a day, `2031-05-14`, or a time of it, `2031-05-14T09:30:00Z`
 * @param what such as "its time stamp is of"
 * @throws {OutsideFailure} `signing-date`
 */
export function refuseOtherDay(stated: string, time: string, what: string): void {
  if (!apart(time, stated.includes('T') ? stated : `${stated}T00:00:00Z`)) return;
  throw new OutsideFailure(
    'signing-date',
    `nothing was signed: it would say ${stated}, and ${what} ${time}`,
    {
      hint: 'leave --date out: the day is that of signing; and see whether the clock of this machine is right',
    },
  );
}
