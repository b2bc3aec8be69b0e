import { ENGLISH_TABLE } from './en/table.ts';
import { joinWords } from './join-words.ts';
import {
  type Datum,
  isList,
  PLACEHOLDER,
  ROWS,
  type Sentence,
  type SentenceData,
  type Text,
} from './sentence.ts';

/** Puts a datum into words: given to the entries of a table, so that what stands in a sentence is of the same language. */
export type Put = (datum: Datum) => string;

/** How one sentence is worded: a text with `{name}` for data, or a function of the data where grammar asks for more. */
// biome-ignore lint/suspicious/noExplicitAny: each entry states the data of its own key; `say` holds callers to it
export type Entry = string | ((data: any, put: Put) => string);

/** The words of a language by the keys of sentences. It may lack some: these are said in English. */
export type WordTable = Readonly<Record<string, Entry>>;

/** Puts sentences into the words of a language. */
export class Words {
  readonly #table: WordTable;
  readonly #spelling: ((text: string) => string) | undefined;

  /** Spells a text that the program makes, beside those of the tables. */
  readonly spell: (text: string) => string;

  /**
   * @param table what the language has; for the rest English
   * @param spelling how the words of the tables and of definitions are spelled; what is put into them keeps its own
   */
  constructor(table: WordTable = {}, spelling?: (text: string) => string) {
    this.#table = { ...ENGLISH_TABLE, ...table };
    this.#spelling = spelling;
    this.spell = spelling ?? ((text) => text);
  }

  word(text: Text): string {
    return typeof text === 'string' ? text : this.#sentence(text);
  }

  #sentence({ key, data, english }: Sentence): string {
    const entry = this.#table[key];
    if (typeof entry === 'function') return this.#spellAround((put) => entry(data, put));
    if (entry !== undefined) return this.#fill(this.spell(entry), data);
    if (english === undefined) throw new Error(`no language has words for '${key}'`);
    return this.#fill(this.spell(nameRows(english, data)), data);
  }

  /** Spells what a function says, and not what is put into it: that is spelled already, or somebody's own. */
  #spellAround(entry: (put: Put) => string): string {
    if (!this.#spelling) return entry(this.#put);
    const parts: string[] = [];
    const said = entry((datum) => `\uE000${parts.push(this.#put(datum)) - 1}\uE001`);
    return this.#spelling(said).replace(/\uE000(\d+)\uE001/g, (_, at: string) => parts[Number(at)]!);
  }

  #fill(text: string, data: SentenceData): string {
    return text.replace(PLACEHOLDER, (placeholder, name: string) => {
      const datum = Object.hasOwn(data, name) ? data[name] : undefined;
      return datum === undefined ? placeholder : this.#put(datum);
    });
  }

  readonly #put: Put = (datum) => {
    if (typeof datum === 'number') return String(datum);
    if (typeof datum === 'string') return datum;
    if (isList(datum)) return this.#join(datum.map(this.#put));
    if (!('type' in datum)) return this.#sentence(datum);
    return datum.type === 'number' ? datum.displayed.print : this.#join(datum.numbers.map(String));
  };

  #join(words: readonly string[]): string {
    return joinWords(words, this.word({ key: 'and', data: {} }));
  }
}

/** The word before `{rows}` in its plural where they are several or no certain ones: 'zone 2', 'zones 1 and 3', 'zones'. */
function nameRows(english: string, data: SentenceData): string {
  const rows = data[ROWS];
  if (typeof rows !== 'object' || !('type' in rows) || rows.type !== 'rows') return english;
  const { length } = rows.numbers;
  if (length === 1) return english;
  return english.replaceAll(` {${ROWS}}`, length === 0 ? 's' : `s {${ROWS}}`);
}

export const ENGLISH = new Words();
