import { ENGLISH, Words, type WordTable } from './words.ts';

/** The languages that there are beside English, each with its table: 'de' -> table. What a table lacks is said in English. */
const TABLES: Readonly<Record<string, WordTable>> = {};

/** The words for the language of a note: 'en-GB', 'de'. */
export function wordsFor(locale: string): Words {
  const [language] = locale.toLowerCase().split('-');
  const table = TABLES[language!];
  return table ? new Words(table) : ENGLISH;
}
