import MiniSearch from 'minisearch';
import type { HandbookPage, LinePart } from '../handbook-page.ts';
import { searchWords } from './search-words.ts';

/** A page that a search found. */
export interface FoundPage {
  readonly name: string;
  readonly kind: HandbookPage['kind'];
  readonly title: string;
  /** The line of the page that says most of what was asked, and what it tells of. */
  readonly why: { readonly part: LinePart | 'title' | 'answer' | 'purpose'; readonly text: string };
}

/** What a search needs of a page. */
export type SearchedPage = Pick<HandbookPage, 'name' | 'kind' | 'title' | 'purpose' | 'answers' | 'lines'>;

type Part = FoundPage['why']['part'] | 'name';

/**
 * How much a word counts by where it stands: what a page is about counts more than what it mentions. The questions of a page are asked in
 * the words of practitioners, as a search is.
 */
const WEIGHTS: Readonly<Record<Part, number>> = {
  title: 4,
  answer: 4,
  name: 3,
  purpose: 2,
  'limiting value': 1.5,
  check: 1.5,
  given: 1,
  result: 1,
  source: 1,
  text: 1,
  remedy: 0.5,
};

/** Words of which every page is full: beside others they decide little. */
const COMMON_WORDS: ReadonlySet<string> = new Set(
  ['lightning', 'surge', 'protection', 'system'].flatMap(searchWords),
);
const WEIGHT_OF_COMMON = 0.3;

const PARTS_SHOWN = (Object.keys(WEIGHTS) as Part[]).filter((part) => part !== 'name');

const MOST_FOUND = 8;
/** Pages that have less of what was asked than this share of the best are not worth a line. */
const LEAST_SHARE = 0.15;

/** Looks through the pages of the handbook; the best comes first. */
export class HandbookSearch {
  readonly #pages: ReadonlyMap<string, SearchedPage>;
  readonly #index: MiniSearch;
  readonly #pagesWith = new Map<string, number>();

  constructor(pages: readonly SearchedPage[]) {
    this.#pages = new Map(pages.map((page) => [page.name, page]));
    this.#index = new MiniSearch({
      idField: 'name',
      fields: Object.keys(WEIGHTS),
      extractField: (page, field) =>
        field === 'id' || field === 'name' ? page.name : partsOf(page as never, field as Part).join('\n'),
      tokenize: searchWords,
      processTerm: (term) => term,
      searchOptions: { boost: WEIGHTS, combineWith: 'OR' },
    });
    this.#index.addAll(pages);
    for (const page of pages) {
      const parts = (Object.keys(WEIGHTS) as Part[]).flatMap((part) => partsOf(page, part));
      for (const term of new Set(searchWords(parts.join('\n')))) {
        this.#pagesWith.set(term, (this.#pagesWith.get(term) ?? 0) + 1);
      }
    }
  }

  /** The pages that answer a question or hold the words; none where no word of it stands anywhere. */
  find(question: string): readonly FoundPage[] {
    const results = this.#index.search(question, {
      // A number that is nearly another one is the number of something else.
      fuzzy: (term) => (/^=|\d/.test(term) || term.length < 5 ? false : 0.2),
      weights: { fuzzy: 0.2, prefix: 0.3 },
      boostTerm: (term) => (COMMON_WORDS.has(term) ? WEIGHT_OF_COMMON : 1),
    });
    const best = results[0]?.score ?? 0;
    return results
      .filter(({ score }) => score >= LEAST_SHARE * best)
      .slice(0, MOST_FOUND)
      .map(({ id, match }) => {
        const page = this.#pages.get(id as string)!;
        const { name, kind, title } = page;
        return { name, kind, title, why: this.#tellWhy(page, Object.keys(match)) };
      });
  }

  /** The line that has most of the terms that were found, rare ones before common ones; of equals the one whose part counts most. */
  #tellWhy(page: SearchedPage, terms: readonly string[]): FoundPage['why'] {
    const worth = new Map(terms.map((term) => [term, this.#worthOf(term)]));
    let best: { readonly line: FoundPage['why']; readonly worth: number } | undefined;
    for (const part of PARTS_SHOWN) {
      for (const text of partsOf(page, part).flatMap(sentencesOf)) {
        const sum = [...new Set(searchWords(text))].reduce(
          (total, term) => total + (worth.get(term) ?? 0),
          0,
        );
        if (!best || sum > best.worth) best = { line: { part, text }, worth: sum };
      }
    }
    return best!.line;
  }

  #worthOf(term: string): number {
    const rarity = Math.log(1 + this.#pages.size / (this.#pagesWith.get(term) ?? 1));
    return term.startsWith('=') ? rarity / 2 : rarity;
  }
}

function partsOf(page: SearchedPage, part: Part): readonly string[] {
  if (part === 'name') return [page.name];
  if (part === 'title') return [page.title];
  if (part === 'purpose') return [page.purpose];
  if (part === 'answer') return page.answers;
  return page.lines.flatMap((line) => (line.part === part ? [line.text] : []));
}

/** A purpose may be a paragraph; one line of it tells enough. */
function sentencesOf(text: string): string[] {
  return text.split(/(?<=[.?!;]) (?=[A-Za-z])/);
}
