import type { Collector } from '../diagnostics/collector.ts';
import { type Place, startOf } from '../diagnostics/place.ts';
import { pageFontFiles } from './fonts.ts';
import { readFontFile } from './package-files.ts';
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
  for (const character of listMissingCharacters(html))
    report(character, findPlace(character, texts), collector);
}

/** The same of a piece of the page whose place is known. */
export function reportMissingCharacters(html: string, place: Place, collector: Collector): void {
  if (mayHoldStrangeCharacters(html)) {
    for (const character of listMissingCharacters(html)) report(character, place, collector);
  }
}

function report(character: string, place: Place, collector: Collector): void {
  const code = `U+${character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}`;
  if (TURNING.test(character)) collector.error('turning-character', place, { code });
  else collector.error('no-glyph', place, { character, code });
}

/** Characters that the fonts are known to have: of a text with these alone no page needs to be made to know. */
export const ORDINARY =
  '\\t\\n\\r\\u0020-\\u007e\\u00a0-\\u00ac\\u00ae-\\u00ff\\u03a9\\u03bc\\u2013\\u2014\\u2018\\u2019\\u201c\\u201d\\u2026\\u2212\\u2264\\u2265';
const STRANGE = new RegExp(`[^${ORDINARY}]`);
/** Ways of writing a character by its number or name: in markdown, in double quotes of YAML, in formulas. */
const BY_CODE = /&(?:#\d+|#[xX][\da-fA-F]+|[A-Za-z]\w+);|"[^"\n]*\\[xuUNLP_eabfv0]|\\(?:char|unicode)\b/;

/** Whether a text of the project may put a character on the page that no font has; then `checkCharacters` must look. */
export function mayHoldStrangeCharacters(text: string): boolean {
  return STRANGE.test(text) || BY_CODE.test(text);
}

/** The characters of the page's text that no font of ours has or that turn it, each once, in the order in which they come. */
export function listMissingCharacters(html: string): string[] {
  const text = html.slice(Math.max(0, html.indexOf('<body>'))).replace(/<[^>]*>/g, '');
  return [...new Set(text)].filter((character) => TURNING.test(character) || !canPrint(character));
}

function canPrint(character: string): boolean {
  printable ??= new Set(pageFontFiles().flatMap((file) => [...readFontCharacters(readFontFile(file))]));
  return printable.has(character.codePointAt(0)!) || /[\s\p{Cf}]/u.test(character);
}

function findPlace(character: string, texts: readonly ProjectText[]): Place {
  for (const { path, text } of texts) {
    const at = text.indexOf(character);
    if (at < 0) continue;
    return { file: path, start: at, end: at + character.length };
  }
  return startOf(texts[0]?.path ?? '');
}
