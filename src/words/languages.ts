import { ENGLISH, Words, type WordTable } from './words.ts';

/** The languages that there are beside English, each with its table: 'de' -> table. What a table lacks is said in English. */
const TABLES: Readonly<Record<string, WordTable>> = {};

/** Every language that has words: 'en', and those of the tables. */
export const LANGUAGES: readonly string[] = ['en', ...Object.keys(TABLES)];

const WORDS = new Map(Object.entries(TABLES).map(([language, table]) => [language, new Words(table)]));

/** The words for the language of a note: 'en-GB', 'de'. */
export function wordsFor(locale: string): Words {
  const [language] = locale.toLowerCase().split('-');
  return WORDS.get(language!) ?? ENGLISH;
}
