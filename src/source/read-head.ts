import type { Collector } from '../diagnostics/collector.ts';
import { TextLines } from '../diagnostics/text-lines.ts';
import { cutFrontMatter } from './cut-front-matter.ts';
import type { FrontMatter } from './note-source.ts';
import { readNote } from './read-note.ts';

/** The part of the text of a note that ends with its front matter; empty where it has none. */
export function headOf(text: string): string {
  const content = text.replace(/^\uFEFF/, '');
  const lines = new TextLines(content);
  const found = cutFrontMatter(lines);
  return found ? content.slice(0, lines.startOf(found.end + 1)) : '';
}

/** What a note says of itself, by its head alone; undefined where it says nothing. */
export function readHead(path: string, head: string, collector: Collector): FrontMatter | undefined {
  return head === '' ? undefined : readNote(path, head, collector)?.frontMatter;
}
