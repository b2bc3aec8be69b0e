import type { CompiledCalculation } from '../engine/definition/compiled.ts';
import type { GivenDefinition } from '../engine/definition/definition.ts';
import { describeCalculation, sourcesOf } from '../engine/handbook/describe-calculation.ts';
import type { HandbookPage, PageLine } from './handbook-page.ts';

/** The handbook page of a calculation. */
export function calculationPage(calculation: CompiledCalculation): HandbookPage {
  const { name, title, purpose, answers = [] } = calculation.definition;
  return {
    kind: 'calculation',
    name,
    title,
    purpose,
    answers,
    // Evidence is worked when the page is read: it takes the time of all others together.
    get markdown() {
      return describeCalculation(calculation);
    },
    body: '',
    lines: linesOf(calculation),
  };
}

function linesOf(calculation: CompiledCalculation): readonly PageLine[] {
  const { givens, steps, checks = {}, limiting = [] } = calculation.definition;
  return [
    ...Object.entries(givens).flatMap(([name, given]) => linesOfGiven(name, given)),
    ...Object.entries(steps).map(([name, { symbol, meaning }]) => line('result', name, symbol, meaning)),
    ...Object.entries(checks).map(([name, { criterion }]) => line('check', name, '', criterion)),
    ...limiting.map(({ given, meaning }) => line('limiting value', given, '', meaning)),
    ...Object.values(checks).flatMap(({ remedies }) =>
      remedies.map((remedy) => line('remedy', '', '', typeof remedy === 'string' ? remedy : remedy.text)),
    ),
    ...sourcesOf(calculation).map((source) => line('source', '', '', source)),
  ];
}

function linesOfGiven(name: string, given: GivenDefinition): PageLine[] {
  const symbol = 'symbol' in given ? given.symbol : '';
  const options = given.type === 'choice' ? given.options : {};
  const columns = given.type === 'rows' ? given.columns : {};
  return [
    line('given', name, symbol, given.meaning),
    ...Object.entries(options).map(([option, meaning]) => line('given', option, '', meaning)),
    ...Object.entries(columns).map(([column, { meaning }]) =>
      line('given', `${name}.${column}`, '', meaning),
    ),
  ];
}

/** 'line_lead (l_1): length of the lead from the tap on the line to the arrester head' */
function line(part: PageLine['part'], name: string, symbol: string, words: string): PageLine {
  const sign = writeSymbol(symbol);
  const head = [name, sign && `(${sign})`].filter((piece) => piece !== '').join(' ');
  return { part, text: head === '' ? words : `${head}: ${words}` };
}

/** A symbol in LaTeX as it is typed in a search: 'U_res', 'rho'. */
function writeSymbol(tex: string): string {
  return tex
    .replace(/\\(?:mathrm|text|mathit|operatorname)\b/g, '')
    .replace(/\\[,;! ]/g, '')
    .replace(/[\\{}$]/g, '')
    .trim();
}
