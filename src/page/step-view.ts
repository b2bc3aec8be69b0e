import type { WordedStep } from '../engine/definition/evaluated.ts';
import type { ResultValue } from '../engine/definition/value.ts';
import { escapeHtml } from './escape-html.ts';
import { fitMath, STEP_EM } from './fit-math.ts';
import type { NoteContext } from './note-context.ts';
import { basisHtml } from './reference-list.ts';
import { mathHtml, setMath } from './set-math.ts';
import { keepPowers } from './typeset-math.ts';
import { capitalise, printResult } from './word-values.ts';

interface LineView {
  readonly html: string;
  /** Set off from what stands before it on the line; goes to the next line as a whole. */
  readonly result: string;
  readonly size: string;
}

/** One step: formula, numbers put in, result, on one line where there is room and else below each other. */
export function viewStep(context: NoteContext, step: WordedStep) {
  return {
    symbol: mathHtml(`\\displaystyle ${step.symbol}`),
    meaning: capitalise(step.meaning),
    basis: basisHtml(step.basis, context),
    lines: stepLines(step),
    // Of many rows some may stand on the next page.
    isLong: (step.rows?.length ?? 0) > ROWS_KEPT_TOGETHER,
    origin: step.origin ?? '',
    units: unitsHtml(step),
    note: step.note ?? '',
  };
}

const ROWS_KEPT_TOGETHER = 6;
const EQUALS = '{=}\\;';
/** Room for the blanks between the parts of a line, and for a symbol that is wider than its column. */
const RESERVE_EM = 4;

/** A formula that is only a number or a quantity says what the result says. */
const BARE_NUMBER = /^\d[\d.]*(?:\\,(?:\\(?:mathrm|text)\{[^}]*\}|\\Omega|[/()]|\^\{-?\d\})+)?$/;

function stepLines({ formulaTex, numbersTex, result, rows }: WordedStep): LineView[] {
  if (rows && result.type === 'list') {
    const formula = fitMath(`${EQUALS}${formulaTex}`, STEP_EM);
    return [
      { ...formula, result: '' },
      ...result.items.flatMap((item, i) => rowLines(rows[i]!, item.displayed.tex)),
    ];
  }
  const shown = resultView(result);
  const parts = [BARE_NUMBER.test(formulaTex) ? '' : formulaTex, numbersTex]
    .filter((tex) => tex !== '')
    .map((tex) => `${EQUALS}${tex}`);
  // A list may take many lines: it begins beside the symbol, where a piece that is kept together would end beside it.
  if (result.type === 'list' && parts.length === 0) return [{ html: shown.html, result: '', size: '' }];
  return joinLine(parts, shown);
}

/** One row of a step over the rows of a table: its symbol, the numbers put in, the result. */
function rowLines({ symbol, numbersTex }: NonNullable<WordedStep['rows']>[number], tex: string): LineView[] {
  const { html, width } = setMath(`${EQUALS}${tex}`);
  return joinLine([`${symbol}\\;${EQUALS}${numbersTex}`], { html, em: width.whole });
}

/** Formulas and result on one line where there is room, else on lines of their own. */
function joinLine(formulas: readonly string[], shown: { html: string; em: number }): LineView[] {
  const parts = formulas.map((tex) => fitMath(tex, STEP_EM));
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
    const tex =
      result.type === 'number'
        ? result.displayed.tex
        : result.items.map((item) => item.displayed.tex).join(';\\allowbreak\\; ');
    const { html, width } = setMath(`${EQUALS}${keepPowers(tex)}`);
    return { html, em: width.whole };
  }
  const words = printResult(result);
  const html = `<span class="words">${escapeHtml(words)}</span>`;
  return { html: result.type === 'choice' ? `${mathHtml(EQUALS)}${html}` : html, em: words.length / 2 + 1 };
}

function unitsHtml({ numericUnits }: WordedStep): string {
  return (numericUnits ?? [])
    .map(({ tex, unit }) => `${mathHtml(tex)} ${unit === '' ? 'as a number' : `in ${escapeHtml(unit)}`}`)
    .join(', ');
}
