import { joinWords } from '../words/join-words.ts';

export { joinWords } from '../words/join-words.ts';

/** Names quoted and joined for a message: 'a', 'b' or 'c'. */
export function quoteList(names: readonly string[], conjunction: 'or' | 'and' = 'or'): string {
  const quoted = names.map((name) => `'${name}'`);
  return joinWords(quoted, conjunction);
}

/** The beginning of a long text, for quoting in a message. */
export function shorten(text: string, length = 60): string {
  const flat = text.replace(/\s+/g, ' ').trim();
  return flat.length <= length ? flat : `${flat.slice(0, length - 1)}…`;
}
