import type { ENGLISH_TABLE } from './en/table.ts';

/** A number in SI as it is printed in a sentence. */
export interface ShownNumber {
  readonly type: 'number';
  readonly si: number;
  readonly unit: { readonly text: string };
  /** `print` for people, `text` in ASCII. */
  readonly displayed: { readonly print: string; readonly text: string };
  /** How it stands in the results that a sign-off covers, where it is printed otherwise: another spelling voids nothing. */
  readonly signedAs?: { readonly text: string };
}

/** The rows of a table of which a sentence is said, counted from one. */
export interface RowNumbers {
  readonly type: 'rows';
  readonly numbers: readonly number[];
}

/** What stands in a sentence: a number, a name or an author's words as they are, a sentence, several of them. */
export type Datum = Text | number | ShownNumber | RowNumbers | readonly Datum[];

/** `{name}` in a text: the datum of that name is put in. */
export const PLACEHOLDER = /\{([a-z0-9_.]+)\}/g;

/** In a text of a definition that is said of rows of a table, the placeholder for their numbers. */
export const ROWS = 'rows';

export type SentenceData = Readonly<Record<string, Datum>>;

/**
 * Something to be said, as data: which sentence, and the names and values in it. It becomes words where it is shown (`Words`).
 * Two sentences say the same where their keys and data are the same, however they are worded.
 */
export interface Sentence {
  /** Of the table of words ('range.met'), or of a definition ('conductor-heating.checks.melting.criterion'). */
  readonly key: string;
  readonly data: SentenceData;
  /** Of a text of a definition: its English, with `{name}` for data. A language that has no words for the key takes it. */
  readonly english?: string;
}

/** A sentence, or an author's own words, which are printed as written in every language. */
export type Text = string | Sentence;

type EnglishTable = typeof ENGLISH_TABLE;

export type SentenceKey = keyof EnglishTable;

/** The data of a sentence of the table: none where its entry is a plain text. */
export type DataOfSentence<K extends SentenceKey> = EnglishTable[K] extends (
  data: infer D extends object,
  ...rest: never[]
) => string
  ? D
  : Record<never, never>;

/** A sentence of the table of words. */
export function say<K extends SentenceKey>(key: K, data: DataOfSentence<K>): Sentence {
  return { key, data: data as SentenceData };
}

export function isList(datum: Datum): datum is readonly Datum[] {
  return Array.isArray(datum);
}
