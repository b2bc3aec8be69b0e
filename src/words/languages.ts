import type { Locale } from './locales.ts';
import { spell } from './spell.ts';
import { ENGLISH, Words, type WordTable } from './words.ts';

/** The languages that there are beside English, each with its table: 'de' -> table. What a table lacks is said in English. */
const TABLES: Readonly<Record<string, WordTable>> = {};

/** Every language that has words: 'en', and those of the tables. */
export const LANGUAGES: readonly string[] = ['en', ...Object.keys(TABLES)];

const WORDS = new Map(Object.entries(TABLES).map(([language, table]) => [language, new Words(table)]));

const AMERICAN: Locale = 'en-US';
const AMERICAN_ENGLISH = new Words({}, (text) => spell(text, AMERICAN));

/** The words for the language of a note: 'en-GB', 'de'. */
export function wordsFor(locale: string): Words {
  if (locale === AMERICAN) return AMERICAN_ENGLISH;
  const [language] = locale.toLowerCase().split('-');
  return WORDS.get(language!) ?? ENGLISH;
}
