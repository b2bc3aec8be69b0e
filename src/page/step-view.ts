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
import { capitalise, printResultOrDash } from './word-values.ts';

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

/**
 * One formula step: its words and their source, and the formula beside them or below, whichever takes less room.
 *
 * @param before the step that stands directly before it; where both rest on the same, that is not written again
 */
export function viewStep(context: BlockContext, step: WordedStep, before?: WordedStep) {
  const symbol = setTex(displayTex(step.symbol));
  const taken = Math.max(0, symbol.width.whole - SYMBOL_EM);
  const narrow = stepLines(step, NARROW_EM - taken);
  const wide = stepLines(step, STEP_EM - taken);
  const words = viewWords(context, step, before);
  const { basis } = words;
  const notes = [words.origin, words.units, words.note].filter((note) => note !== '');
  const [meaning, source] = [signsOf(words.meaning), signsOf(basis)];
  const beside = Math.max(
    TEXT_LINE * linesOf(meaning + source, SIGNS_BESIDE),
    narrow.height + TEXT_LINE * sumOf(notes, (note) => linesOf(signsOf(note), SIGNS_OF_NOTE)),
  );
  const above =
    TEXT_LINE * Math.max(linesOf(meaning + source, SIGNS_ABOVE), linesOf(source, SIGNS_OF_SOURCE));
  const below = wide.height + TEXT_LINE * sumOf(notes, (note) => linesOf(signsOf(note), SIGNS_ABOVE));
  // Beside its words a formula is taken apart sooner: what is written as a fraction stays one where there is room.
  const isWide = beside > above + below || fractionsOf(narrow) < fractionsOf(wide);
  return {
    symbol: symbol.html,
    ...words,
    isWide,
    lines: (isWide ? wide : narrow).lines,
  };
}

/** What is said of a step beside its formula. */
export function viewWords(context: BlockContext, step: WordedStep, before?: WordedStep) {
  const basis = basisHtml(step.basis, context);
  const isSame = before !== undefined && basisHtml(before.basis, context) === basis;
  return {
    name: step.name,
    meaning: capitalise(step.meaning),
    basis: isSame ? SAME_BASIS : basis,
    // What was found in the same way on the same basis says so once.
    origin: isSame && before.origin === step.origin ? '' : originOf(step),
    units: unitsHtml(step, context.words),
    note: step.note ?? '',
  };
}

export const SAME_BASIS = 'as above';

function originOf({ kind, origin }: WordedStep): string {
  return kind === 'solver' ? (origin ?? '') : '';
}

/** So many signs of a sans serif stand on a line: beside the formula, above it, of a source there, of a note below a formula. */
const SIGNS_BESIDE = 42;
const SIGNS_ABOVE = 120;
const SIGNS_OF_SOURCE = 72;
const SIGNS_OF_NOTE = 78;
/** A line of small words against one of a formula. */
const TEXT_LINE = 0.72;

function fractionsOf({ lines }: LinesView): number {
  return sumOf(lines, ({ html }) => html.split('mfrac').length);
}

function linesOf(signs: number, ofLine: number): number {
  return Math.ceil(signs / ofLine);
}

function sumOf<T>(all: readonly T[], value: (one: T) => number): number {
  return all.reduce((sum, one) => sum + value(one), 0);
}

function signsOf(html: string): number {
  return html.replaceAll(/<[^>]*>/g, '').length;
}

/** The width that the style sheet keeps for symbols. */
const SYMBOL_EM = 3;
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
  const words = printResultOrDash(result);
  const html = `<span class="words">${textHtml(words)}</span>`;
  return {
    html: result.type === 'choice' ? `${mathHtml(sign('leading equals'))}\u00a0${html}` : html,
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
