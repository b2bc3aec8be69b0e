import { findDateConflicts, listDates, type StatedDates } from '../review/sign-off/judge-dates.ts';
import type { Finding } from './finding.ts';

const ABOUT = 'order of dates';

/**
 * Whether the days that note, sign-offs and issue state fit one another. That they are true, only a time stamp shows.
 *
 * @param asOf the day of the verification: what is dated after it has not been done
 */
export function verifyDates(stated: StatedDates, asOf: string): Finding {
  const conflicts = findDateConflicts(stated);
  if (conflicts.length > 0) {
    return { about: ABOUT, state: 'contradicted', text: conflicts.join('; ') };
  }
  const dates = listDates(stated);
  if (dates.length === 0) return { about: ABOUT, state: 'not proven', text: 'nobody has signed or issued' };
  const said = dates.map(({ what, date }) => `${what} ${date}`).join(', ');
  const ahead = dates.filter(({ date }) => date > asOf);
  return ahead.length > 0
    ? {
        about: ABOUT,
        state: 'not proven',
        text: `${said}: after ${asOf}, the day of this verification, lies what was ${ahead.map(({ what }) => what).join(', ')}`,
      }
    : {
        about: ABOUT,
        state: 'proven',
        text: `${said}: as stated, in the order in which it must be; that it was done on those days is not shown by that`,
      };
}
