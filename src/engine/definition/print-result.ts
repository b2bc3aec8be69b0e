import type { ResultValue } from './value.ts';

/** A result as running text, its items parted by semicolons where it is a list. */
export function printResult(result: ResultValue<string>): string {
  switch (result.type) {
    case 'number':
      return result.displayed.print;
    case 'words':
      return result.words;
    case 'choice':
      return result.choice;
    case 'list':
      return result.items.map(({ displayed }) => displayed.print).join('; ');
  }
}
