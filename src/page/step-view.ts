import type { WordedStep } from '../engine/definition/evaluated.ts';
import type { ResultValue } from '../engine/definition/value.ts';
import { type MathPiece, quantityPiece, rowOf, sign } from '../formula/math-piece.ts';
import type { Displayed } from '../quantity/display.ts';
import { say } from '../words/sentence.ts';
import type { Words } from '../words/words.ts';
import { fitMath, STEP_EM } from './math/fit-math.ts';
import { mathHtml, setMath, setTex, texHtml } from './math/set-math.ts';
import { displayTex } from './math/typeset-math.ts';
import type { BlockContext } from './note-context.ts';
import { basisHtml } from './reference-list.ts';
import { textHtml } from './text-html.ts';
import { capitalise, printResult } from './word-values.ts';

interface LineView {
  readonly html: string;
  /** Set off from what stands before it on the line; goes to the next line as a whole. */
  readonly result: string;
  readonly size: string;
}

/** One step: formula, numbers put in, result, on one line where there is room and else below each other. */
export function viewStep(context: BlockContext, step: WordedStep) {
  return {
    symbol: setTex(displayTex(step.symbol)).html,
    meaning: capitalise(step.meaning),
    basis: basisHtml(step.basis, context),
    lines: stepLines(step),
    // Of many rows some may stand on the next page.
    isLong: (step.rows?.length ?? 0) > ROWS_KEPT_TOGETHER,
    origin: step.origin ?? '',
    units: unitsHtml(step, context.words),
    note: step.note ?? '',
  };
}

const ROWS_KEPT_TOGETHER = 6;
/** Room for the blanks between the parts of a line, and for a symbol that is wider than its column. */
const RESERVE_EM = 4;

function stepLines({ formula, numbers, result, rows }: WordedStep): LineView[] {
  if (rows && formula && result.type === 'list') {
    return [
      { ...fitMath(equals(formula), STEP_EM), result: '' },
      ...result.items.flatMap((item, i) => rowLines(rows[i]!, item.displayed)),
    ];
  }
  const shown = resultView(result);
  const parts = [isBareNumber(formula) ? undefined : formula, numbers]
    .filter((part) => part !== undefined)
    .map(equals);
  // A list may take many lines: it begins beside the symbol, where a piece that is kept together would end beside it.
  if (result.type === 'list' && parts.length === 0) return [{ html: shown.html, result: '', size: '' }];
  return joinLine(parts, shown);
}

/** A formula that is only a number or a quantity says what the result says. */
function isBareNumber(formula: MathPiece | undefined): boolean {
  return formula?.type === 'number' || formula?.type === 'quantity';
}

function equals(piece: MathPiece): MathPiece {
  return rowOf([sign('leading equals'), piece]);
}

/** One row of a step over the rows of a table: its symbol, the numbers put in, the result. */
function rowLines(
  { symbol, numbers }: NonNullable<WordedStep['rows']>[number],
  displayed: Displayed,
): LineView[] {
  const { html, width } = setMath(equals(quantityPiece(displayed)));
  const line = rowOf([{ type: 'symbol', tex: symbol }, sign('wide'), equals(numbers)]);
  return joinLine([line], { html, em: width.whole });
}

/** Formulas and result on one line where there is room, else on lines of their own. */
function joinLine(formulas: readonly MathPiece[], shown: { html: string; em: number }): LineView[] {
  const parts = formulas.map((formula) => fitMath(formula, STEP_EM));
  const width = parts.reduce((sum, part) => sum + part.em, shown.em);
  if (parts.every(({ size }) => size === '') && width <= STEP_EM - RESERVE_EM) {
    return [{ html: parts.map(({ html }) => html).join(' '), result: shown.html, size: '' }];
  }
  const lines = parts.map(({ html, size }) => ({ html, size, result: '' }));
  const last = lines.pop();
  return [...lines, last ? { ...last, result: shown.html } : { html: '', result: shown.html, size: '' }];
}

function resultView(result: ResultValue<string>): { html: string; em: number } {
  if (result.type === 'number' || result.type === 'list') {
    const items = result.type === 'number' ? [result] : result.items;
    const list = items.flatMap(({ displayed }, i) => [
      ...(i === 0 ? [] : [sign('semicolon')]),
      quantityPiece(displayed),
    ]);
    const { html, width } = setMath(equals(rowOf(list)));
    return { html, em: width.whole };
  }
  const words = printResult(result);
  const html = `<span class="words">${textHtml(words)}</span>`;
  return {
    html: result.type === 'choice' ? `${mathHtml(sign('leading equals'))}${html}` : html,
    em: words.length / 2 + 1,
  };
}

function unitsHtml({ numericUnits }: WordedStep, words: Words): string {
  const counted = (unit: string) =>
    words.word(unit === '' ? say('step.pure-number', {}) : say('step.number-in', { unit }));
  return (numericUnits ?? []).map(({ tex, unit }) => `${texHtml(tex)} ${textHtml(counted(unit))}`).join(', ');
}
