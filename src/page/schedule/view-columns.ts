import type { Value } from '../../engine/definition/value.ts';
import type { WordedSchedule } from '../../evaluation/evaluated-note.ts';
import { traitsOf } from '../../formula/symbol-traits.ts';
import { displayEntered } from '../../quantity/display.ts';
import type { Quantity } from '../../quantity/quantity.ts';
import { withKind } from '../../quantity/voltage-kind.ts';
import { texHtml } from '../math/set-math.ts';
import { shortOption } from '../word-option.ts';
import { DASH } from '../word-values.ts';

/** So many words of a column are told one by one. */
const MOST_WORDS = 5;

/** The givens that stand in columns of the file: in which, and between what their values lie. */
export function viewColumns({ source, rows, method, ways }: WordedSchedule) {
  return source.columns.map(({ given, column, unit }) => {
    // A given that the first row does not take may be one of rows that are worked another way.
    const known = [method, ...ways].flatMap(({ givens }) => givens).find(({ name }) => name === given);
    const values = rows.flatMap(({ given: cells }) => cells[given] ?? []);
    const isChoice = values.some(({ type }) => type === 'choice');
    const absent = rows.length - values.length;
    return {
      // The symbol of a choice is a word, which says what its meaning says.
      symbol: known && !(isChoice && traitsOf(known.symbol).isWord) ? texHtml(known.symbol) : '',
      meaning: known?.meaning ?? given.replaceAll('_', ' '),
      column: column.name,
      unit: unit?.name ?? '',
      values: sayValues(values),
      absent: absent > 0 ? `${absent} ${absent === 1 ? 'cell' : 'cells'} empty` : '',
    };
  });
}

/** '0.1 m to 1.2 m'; of words each once. */
function sayValues(values: readonly Value[]): string {
  const quantities = values.flatMap((value) =>
    value.type === 'quantity' ? [value.quantity] : value.type === 'list' ? value.items : [],
  );
  const words = [
    ...new Set(
      values.flatMap((value) =>
        value.type === 'choice' ? [shortOption({ option: value.choice, words: value.choice })] : [],
      ),
    ),
  ];
  if (quantities.length === 0) {
    if (words.length > MOST_WORDS) return `${words.length} different words`;
    return words.join(', ') || DASH;
  }
  const least = quantities.reduce((a, b) => (b.si < a.si ? b : a));
  const most = quantities.reduce((a, b) => (b.si > a.si ? b : a));
  return least.si === most.si ? print(least) : `${displayEntered(least).print} to ${print(most)}`;
}

function print(quantity: Quantity): string {
  return withKind(displayEntered(quantity).print, quantity.kind);
}
