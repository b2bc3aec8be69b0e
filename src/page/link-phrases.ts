import { escapeMarkup } from '../markup/escape-markup.ts';
import { textHtml } from './text-html.ts';

/** Words that lead somewhere in the document wherever they stand. */
export interface Phrase {
  readonly text: string;
  readonly target: string;
}

/** The parts of a text: plain ones, and phrases with their target. Of phrases that begin together the longest counts. */
export function splitPhrases(
  text: string,
  phrases: readonly Phrase[],
): readonly { readonly text: string; readonly target?: string }[] {
  const parts: { text: string; target?: string }[] = [];
  let plainFrom = 0;
  for (let i = 0; i < text.length; i += 1) {
    const phrase = longestAt(text, i, phrases);
    if (!phrase) continue;
    if (i > plainFrom) parts.push({ text: text.slice(plainFrom, i) });
    parts.push({ text: phrase.text, target: phrase.target });
    i += phrase.text.length - 1;
    plainFrom = i + 1;
  }
  if (plainFrom < text.length) parts.push({ text: text.slice(plainFrom) });
  return parts;
}

/** A plain text as HTML with its phrases as links. */
export function linkPhrases(text: string, phrases: readonly Phrase[]): string {
  return splitPhrases(text, phrases)
    .map((part) => (part.target === undefined ? textHtml(part.text) : link(part.target, part.text)))
    .join('');
}

export function link(target: string, text: string): string {
  return `<a href="#${escapeMarkup(target)}">${textHtml(text)}</a>`;
}

const WORD = /[\p{L}\p{N}]/u;

function longestAt(text: string, at: number, phrases: readonly Phrase[]): Phrase | undefined {
  let longest: Phrase | undefined;
  for (const phrase of phrases) {
    if (!text.startsWith(phrase.text, at) || phrase.text.length <= (longest?.text.length ?? 0)) continue;
    if (splitsWord(text, at, phrase.text)) continue;
    longest = phrase;
  }
  return longest;
}

/** True where a letter or digit of the phrase touches one outside it. */
function splitsWord(text: string, at: number, phrase: string): boolean {
  const before = text[at - 1] ?? ' ';
  const after = text[at + phrase.length] ?? ' ';
  return (WORD.test(before) && WORD.test(phrase[0]!)) || (WORD.test(after) && WORD.test(phrase.at(-1)!));
}
