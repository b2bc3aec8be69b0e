import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { isDay } from '../source/read-shape.ts';

/**
 * The day of signing, issuing or beginning a note: as written, else today by the clock of this machine. Nothing but this file reads the clock.
 *
 * @throws {OutsideFailure} `usage` where what is written is no day
 */
export function readDay(written: string | undefined): string {
  if (written === undefined) {
    const now = new Date();
    const two = (number: number): string => String(number).padStart(2, '0');
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  }
  if (isDay(written)) return written;
  throw new OutsideFailure('usage', `--date ${written}: there is no such day`, {
    hint: 'write it as 2031-05-14',
  });
}

/**
 * The time as of which a document is verified, such as `2031-05-04T09:30:00Z`: the end of the day that is written, else now.
 *
 * @throws {OutsideFailure} `usage` where what is written is no day
 */
export function readMoment(written: string | undefined): string {
  return written === undefined
    ? `${new Date().toISOString().slice(0, 19)}Z`
    : `${readDay(written)}T23:59:59Z`;
}
