import type { WordedStep } from '../engine/definition/evaluated.ts';
import { quantityPiece } from '../formula/math-piece.ts';
import { traitsOf } from '../formula/symbol-traits.ts';
import type { Displayed } from '../quantity/display.ts';
import { mathHtml, texHtml } from './math/set-math.ts';
import { textHtml } from './text-html.ts';
import { shortOption } from './word-option.ts';
import { printResultOrDash } from './word-values.ts';

/** A value as it stands in a table; of a list a line may end between its items. */
export function valueHtml({ result }: Pick<WordedStep, 'result'>): string {
  if (result.type !== 'number' && result.type !== 'list') return textHtml(printResultOrDash(result));
  const items = result.type === 'number' ? [result] : result.items;
  return items.map(({ displayed }) => wholeHtml(displayed)).join('; ');
}

/** A quantity within which no line ends. */
export function wholeHtml(displayed: Displayed): string {
  return `<span class="whole">${mathHtml(quantityPiece(displayed))}</span>`;
}

/** The symbol of a step; none where it is a word, which says what the meaning says. */
export function symbolHtml({ symbol }: Pick<WordedStep, 'symbol'>): string {
  return traitsOf(symbol).isWord ? '' : texHtml(symbol);
}

/** What a value is, and by which option it was looked up. */
export function meaningWithKeys({ meaning, keys }: WordedStep): string {
  const options = (keys ?? []).map((key) => key.options.map(shortOption).join('; '));
  return options.length === 0 ? meaning : `${meaning}: ${options.join(', ')}`;
}

/** A value, or each of those that a step has for the rows of a table, with the title of its row where there are several. */
export function itemsHtml(step: WordedStep, titles: readonly string[]): string[] {
  if (step.result.type !== 'list') return [valueHtml(step)];
  return step.result.items.map(({ displayed }, i) => {
    const title = titles[i] === undefined || titles.length === 1 ? '' : `${textHtml(titles[i])}: `;
    return `${title}${wholeHtml(displayed)}`;
  });
}
