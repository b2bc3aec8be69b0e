import type { WordedStep } from '../engine/definition/evaluated.ts';
import { type MathPiece, quantityPiece, rowOf, sign } from '../formula/math-piece.ts';
import type { Displayed } from '../quantity/display.ts';
import { type FittedMath, fitMath, TEXT_EM } from './math/fit-math.ts';
import { mathHtml } from './math/set-math.ts';
import { textHtml } from './text-html.ts';
import { shortOption } from './word-option.ts';
import { printResult } from './word-values.ts';

/** A value as it stands in a table. */
export function valueHtml({ result }: Pick<WordedStep, 'result'>): string {
  if (result.type === 'number') return mathHtml(quantityPiece(result.displayed));
  if (result.type !== 'list') return textHtml(printResult(result));
  return result.items.map(({ displayed }) => mathHtml(quantityPiece(displayed))).join('; ');
}

/** What a value is, and by which option it was looked up. */
export function meaningWithKeys({ meaning, keys }: WordedStep): string {
  const options = (keys ?? []).map((key) => key.options.map(shortOption).join('; '));
  return options.length === 0 ? meaning : `${meaning}: ${options.join(', ')}`;
}

/** The numbers put in, where those that stand elsewhere would not give the result to its last digit. */
export function finerLines({ symbol, result, finer, numbers, rows }: WordedStep): FittedMath[] {
  if (result.type === 'number')
    return finer && numbers ? [fitEquation(symbol, numbers, result.displayed)] : [];
  if (result.type !== 'list') return [];
  const { items } = result;
  return (rows ?? []).flatMap((row, i) =>
    row.finer ? [fitEquation(row.symbol, row.numbers, items[i]!.displayed)] : [],
  );
}

function fitEquation(tex: string, numbers: MathPiece, displayed: Displayed): FittedMath {
  const parts: MathPiece[] = [
    { type: 'symbol', tex },
    sign('='),
    numbers,
    sign('='),
    quantityPiece(displayed),
  ];
  return fitMath(rowOf(parts), TEXT_EM);
}
