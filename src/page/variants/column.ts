import { wordCase } from '../case-titles.ts';
import type { ShownBlock } from '../note-context.ts';

/** A calculation that stands beside others of its method: a column of every table. */
export interface Column {
  /** '3a' */
  readonly number: string;
  readonly block: ShownBlock;
}

export function headOf({ number, block }: Column) {
  return { number, block: block.id, ofCase: wordCase(block.case) };
}

/** So many fit across the page with the words of the rows. */
const MOST_COLUMNS = 5;

/** So few have room for a verdict in one line. */
export const FEW_COLUMNS = 2;

export function isFew(columns: readonly Column[]): boolean {
  return columns.length <= FEW_COLUMNS;
}

/** The columns of each table in turn: the first stands in all of them, for the others are read against it. */
export function splitColumns(columns: readonly Column[]): readonly (readonly Column[])[] {
  const [first, ...others] = columns;
  if (columns.length <= MOST_COLUMNS || !first) return [columns];
  const parts: Column[][] = [];
  for (let i = 0; i < others.length; i += MOST_COLUMNS - 1) {
    parts.push([first, ...others.slice(i, i + MOST_COLUMNS - 1)]);
  }
  return parts;
}

/** What is said of some calculations, each thing once: '3a, 3c' and what. */
export interface Told<Content> {
  readonly numbers: string;
  /** Whether it is said of all. */
  readonly ofAll: boolean;
  readonly content: Content;
}

/** What is said of each column, with those of which the same is said together. */
export function tellTogether<Content>(
  columns: readonly Column[],
  contentOf: (column: Column) => readonly Content[],
): readonly Told<Content>[] {
  const found = new Map<string, { readonly numbers: string[]; readonly content: Content }>();
  for (const column of columns) {
    for (const content of contentOf(column)) {
      const key = JSON.stringify(content);
      const one = found.get(key) ?? { numbers: [], content };
      one.numbers.push(column.number);
      found.set(key, one);
    }
  }
  return [...found.values()].map(({ numbers, content }) => ({
    numbers: numbers.join(', '),
    ofAll: numbers.length === columns.length,
    content,
  }));
}
