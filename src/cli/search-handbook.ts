import type { HandbookPage } from '../handbook/handbook-page.ts';
import { nearestPages } from '../handbook/search/nearest-pages.ts';
import { type FoundPage, HandbookSearch } from '../handbook/search/search-handbook.ts';
import { EXIT } from './exit-status.ts';
import type { Terminal } from './terminal.ts';

/** Prints the pages that a search finds, the best first; where it finds none, the nearest names, and the status of an unknown name. */
export function searchHandbook(
  question: string,
  pages: readonly HandbookPage[],
  { json }: { readonly json?: boolean },
  terminal: Terminal,
): number {
  const found = new HandbookSearch(pages).find(question);
  const nearest = found.length > 0 ? [] : nearestPages(question, pages);
  if (json) {
    const listed = found.map((page) => ({ ...page, command: commandOf(page) }));
    terminal.out(JSON.stringify({ search: question, pages: listed, nearest }, null, 2));
  } else if (found.length > 0) terminal.out(found.map(showFound).join('\n'));
  else {
    const names = nearest.map((name) => `'${name}'`).join(', ');
    terminal.err(
      `the handbook has nothing on '${question}'${names === '' ? '' : `; pages with like names: ${names}`}`,
    );
  }
  return found.length > 0 ? EXIT.done : EXIT.usage;
}

function commandOf({ name }: Pick<FoundPage, 'name'>): string {
  return `surgenote describe ${name}`;
}

function showFound(page: FoundPage, index: number): string {
  const { title, why } = page;
  const lead = why.part === 'text' || why.part === 'title' ? '' : `${why.part}: `;
  return `${index + 1}. ${title}\n   ${lead}${why.text}\n   ${commandOf(page)}`;
}
