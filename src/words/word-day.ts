import type { Locale } from './locales.ts';

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

const DAY = /\b(\d{4})-(\d{2})-(\d{2})\b/g;

/**
 * Days of a text that the program makes, ISO 8601, as a document shows them: '14 May 2031', in en-US 'May 14, 2031'. Their parts are tied
 * to one another.
 */
export function wordDays(text: string, locale: Locale): string {
  return text.replace(DAY, (iso, year: string, month: string, day: string) => {
    const name = MONTHS[Number(month) - 1];
    if (name === undefined) return iso;
    return locale === 'en-US'
      ? `${name}\u00a0${Number(day)},\u00a0${year}`
      : `${Number(day)}\u00a0${name}\u00a0${year}`;
  });
}
