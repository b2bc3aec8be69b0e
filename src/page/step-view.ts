import type { WordedStep } from '../engine/definition/evaluated.ts';
import type { ResultValue } from '../engine/definition/value.ts';
import { type MathPiece, quantityPiece, rowOf, sign } from '../formula/math-piece.ts';
import { say } from '../words/sentence.ts';
import type { Words } from '../words/words.ts';
import { isNumberAlone } from './arrange-steps.ts';
import { type FittedMath, fitMath, NARROW_EM, STEP_EM } from './math/fit-math.ts';
import { mathHtml, setMath, setTex, texHtml } from './math/set-math.ts';
import { displayTex } from './math/typeset-math.ts';
import type { BlockContext } from './note-context.ts';
import { basisHtml } from './reference-list.ts';
import { textHtml } from './text-html.ts';
import { capitalise, printResult } from './word-values.ts';

export interface LineView {
  readonly html: string;
  /** Set off from what stands before it on the line; goes to the next line as a whole. */
  readonly result: string;
  readonly size: string;
}

/** Lines and how high they are, in lines of text. */
interface LinesView {
  readonly lines: readonly LineView[];
  readonly height: number;
}

/** One formula step: beside its words where there is room, else below them. */
export function viewStep(context: BlockContext, step: WordedStep) {
  const symbol = setTex(displayTex(step.symbol));
  const taken = Math.max(0, symbol.width.whole - SYMBOL_EM);
  const narrow = stepLines(step, NARROW_EM - taken);
  const wide = stepLines(step, STEP_EM - taken);
  const words = viewWords(context, step);
  const isWide = narrow.height > wide.height + HEAD_LINES || signsOf(words.basis) > LONGEST_BESIDE;
  return {
    symbol: symbol.html,
    ...words,
    isWide,
    lines: (isWide ? wide : narrow).lines,
  };
}

/** What is said of a step beside its formula. */
export function viewWords(context: BlockContext, step: WordedStep) {
  return {
    name: step.name,
    meaning: capitalise(step.meaning),
    basis: basisHtml(step.basis, context),
    origin: step.kind === 'solver' ? (step.origin ?? '') : '',
    units: unitsHtml(step, context.words),
    note: step.note ?? '',
  };
}

/** A source of more signs than some four lines in its column stands above the formula, where it takes two. */
const LONGEST_BESIDE = 110;

function signsOf(html: string): number {
  return html.replaceAll(/<[^>]*>/g, '').length;
}

/** The width that the style sheet keeps for symbols. */
const SYMBOL_EM = 3;
/** The words of a wide step take a line above it. */
const HEAD_LINES = 1.2;
/** Widths are estimated, most of them too large; a result that has no room goes to the next line. */
const ESTIMATE = 0.93;

function stepLines(step: WordedStep, columnEm: number): LinesView {
  const { formula, numbers, result } = step;
  const shown = resultView(result);
  const parts = [isNumberAlone(step) ? undefined : formula, numbers]
    .filter((part) => part !== undefined)
    .map((part) => fitMath(equals(part), columnEm));
  return joinLine(parts, shown, columnEm);
}

function equals(piece: MathPiece): MathPiece {
  return rowOf([sign('leading equals'), piece]);
}

/** Formulas and result on one line where there is room, else on lines of their own. */
function joinLine(
  parts: readonly FittedMath[],
  shown: { html: string; em: number },
  columnEm: number,
): LinesView {
  const width = ESTIMATE * parts.reduce((sum, part) => sum + part.em, shown.em);
  const tall = parts.some(({ html }) => html.includes('mfrac')) ? TALL : 1;
  if (parts.every(({ size }) => size === '') && width <= columnEm) {
    return {
      lines: [{ html: parts.map(({ html }) => html).join(' '), result: shown.html, size: '' }],
      height: tall,
    };
  }
  const lines = parts.map(({ html, size }) => ({ html, size, result: '' }));
  const last = lines.pop();
  const heights = parts.map(({ em, html, size }, i) => {
    const all = em + (i === parts.length - 1 ? shown.em : 0);
    const shrunk = size === '' ? 0 : columnEm;
    return Math.ceil((all + shrunk) / columnEm) * (html.includes('mfrac') ? TALL : 1);
  });
  return {
    lines: [...lines, last ? { ...last, result: shown.html } : { html: '', result: shown.html, size: '' }],
    height: heights.reduce((sum, one) => sum + one, 0) || 1,
  };
}

/** A line with a fraction against one without. */
const TALL = 1.9;

/** The result with its equals sign. */
export function resultView(result: ResultValue<string>): { html: string; em: number } {
  if (result.type === 'number' || result.type === 'list') {
    const { html, width } = setMath(equals(valuePiece(result)));
    return { html, em: width.whole };
  }
  const words = printResult(result);
  const html = `<span class="words">${textHtml(words)}</span>`;
  return {
    html: result.type === 'choice' ? `${mathHtml(sign('leading equals'))}${html}` : html,
    em: words.length / 2 + 1,
  };
}

function valuePiece(result: ResultValue<string> & { readonly type: 'number' | 'list' }): MathPiece {
  const items = result.type === 'number' ? [result] : result.items;
  const list = items.flatMap(({ displayed }, i) => [
    ...(i === 0 ? [] : [sign('semicolon')]),
    quantityPiece(displayed),
  ]);
  return rowOf(list);
}

function unitsHtml({ numericUnits }: WordedStep, words: Words): string {
  const counted = (unit: string) =>
    words.word(unit === '' ? say('step.pure-number', {}) : say('step.number-in', { unit }));
  return (numericUnits ?? []).map(({ tex, unit }) => `${texHtml(tex)} ${textHtml(counted(unit))}`).join(', ');
}
