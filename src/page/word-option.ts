import type { Chosen } from '../engine/definition/evaluated.ts';

/** A key that is words of the language, joined by hyphens: 'low-voltage', 'average-panic'. */
const WORDS = /^[a-z]{2,}(?:-[a-z]+)*$/;
/** The number for which an option stands, behind its words: '...: 0.5'. The steps print it. */
const NUMBER_BEHIND = /: \d[\d.]*$/;
const ROOM = 32;

/** An option as a reader knows it, in full: the words of the definition. */
export function wordOption({ words }: Chosen<string>): string {
  return words.replace(NUMBER_BEHIND, '');
}

/** An option in few words, for a cell or behind the name of a factor. */
export function shortOption(chosen: Chosen<string>): string {
  const { option } = chosen;
  if (WORDS.test(option)) return option.replaceAll('-', ' ');
  const words = wordOption(chosen);
  if (words.length <= ROOM) return words;
  const ends = [...words.matchAll(/[:;,] /g)].map(({ index }) => index);
  const end = ends.filter((at) => at <= ROOM).at(-1) ?? ends[0];
  return end === undefined ? words : words.slice(0, end);
}
