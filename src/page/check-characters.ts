import type { Collector } from '../diagnostics/collector.ts';
import { startOf } from '../diagnostics/place.ts';
import { pageFontFiles } from './fonts.ts';
import { readPackageFile } from './package-files.ts';
import { readFontCharacters } from './read-font-characters.ts';

/** A text of the project in which a character may stand. */
export interface ProjectText {
  readonly path: string;
  readonly text: string;
}

/** Marks, embeddings, overrides and isolates of the Unicode Bidirectional Algorithm (UAX #9, 2). */
const TURNING = /[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/;

let printable: ReadonlySet<number> | undefined;

/**
 * Reports every character that is printed and that none of the fonts has, where it first stands in the texts. It looks
 * at the page, so that what only a comment holds does no harm.
 */
export function checkCharacters(html: string, texts: readonly ProjectText[], collector: Collector): void {
  for (const character of listMissingCharacters(html)) {
    const code = `U+${character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}`;
    const place = findPlace(character, texts);
    if (TURNING.test(character)) collector.error('turning-character', place, { code });
    else collector.error('no-glyph', place, { character, code });
  }
}

/** The characters of the page's text that no font of ours has or that turn it, each once, in the order in which they come. */
export function listMissingCharacters(html: string): string[] {
  const text = html.slice(html.indexOf('<body>')).replace(/<[^>]*>/g, '');
  return [...new Set(text)].filter((character) => TURNING.test(character) || !canPrint(character));
}

function canPrint(character: string): boolean {
  printable ??= new Set(pageFontFiles().flatMap((file) => [...readFontCharacters(readPackageFile(file))]));
  return printable.has(character.codePointAt(0)!) || /[\s\p{Cf}]/u.test(character);
}

function findPlace(character: string, texts: readonly ProjectText[]) {
  for (const { path, text } of texts) {
    const at = text.indexOf(character);
    if (at < 0) continue;
    const before = text.slice(0, at).split(/\r\n|\n|\r/);
    return {
      file: path,
      line: before.length,
      column: before.at(-1)!.length + 1,
      length: character.length,
    };
  }
  return startOf(texts[0]?.path ?? '');
}
