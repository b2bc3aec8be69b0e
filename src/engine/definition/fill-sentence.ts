import { joinWords } from '../../diagnostics/words.ts';
import type { RowPoint } from '../../formula/formula.ts';

/** `{name}` in a sentence: the displayed value of that name is put in. */
export const PLACEHOLDER = /\{([a-z0-9_.]+)\}/g;

/** In a sentence over the rows of a table, the placeholder for the numbers of those it is said of. */
export const ROWS = 'rows';

/** The numbers of rows, counted from one, in place of `{rows}`, and a plural before several: 'zone 2', 'zones 1 and 3'. */
export function fillRows(text: string, points: readonly RowPoint[]): string {
  const numbers = points.flatMap((rows) => [...rows.values()].map((row) => String(row + 1)));
  const plural = numbers.length > 1 ? 's' : '';
  return text.replaceAll(` {${ROWS}}`, `${plural} ${joinWords(numbers)}`);
}

export function fillSentence(text: string, shown: (name: string) => string): string {
  return text.replace(PLACEHOLDER, (_, name: string) => shown(name));
}
