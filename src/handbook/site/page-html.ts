import {
  describeEvidenceOf,
  describeUse,
  GENERAL_CAUTION,
} from '../../engine/handbook/describe-calculation.ts';
import { escapeMarkup } from '../../markup/escape-markup.ts';
import { drawFigure } from '../../page/draw-figure.ts';
import { texHtml } from '../../page/math/set-math.ts';
import { textHtml } from '../../page/text-html.ts';
import { exampleResults } from '../example-results.ts';
import { calculationOf } from '../handbook.ts';
import type { HandbookPage } from '../handbook-page.ts';
import { type MarkdownParts, renderMarkdown } from './render-markdown.ts';
import { setFormulas } from './set-formulas.ts';

/** What the handbook is. */
export const INTRODUCTION =
  'What the calculations ask for, what they give and on what they rest, and how notes are written, signed and issued.';

/** Where a page stands: its links, and at which level its own headings begin. */
export interface PagePlace {
  readonly linkOf: MarkdownParts['linkOf'];
  readonly level: number;
  /** Before the ids of its headings, where several pages stand in one document. */
  readonly scope: string;
}

/** How a page is used, as HTML without its title. */
export function usePageHtml(page: HandbookPage, place: PagePlace): string {
  const calculation = calculationOf(page);
  const purpose = `<p class="purpose">${textHtml(page.purpose)}</p>`;
  if (!calculation) return `${purpose}\n${render(page.body, place)}`;
  const set = setFormulas(calculation);
  const use = render(describeUse(calculation, set), place, set.formulas);
  const behind = use.indexOf('</pre>') + '</pre>'.length;
  const [paste, rest] = [use.slice(0, behind), use.slice(behind)];
  return [
    purpose,
    paste,
    resultsHtml(page, place),
    rest,
    `<p class="caution">${textHtml(GENERAL_CAUTION)}</p>`,
  ].join('\n');
}

/** The evidence of a calculation as HTML without its title; undefined for a topic. */
export function evidenceHtml(page: HandbookPage, place: PagePlace): string | undefined {
  const calculation = calculationOf(page);
  return calculation && render(describeEvidenceOf(calculation).replace(/^## Evidence\n\n/, ''), place);
}

function render(
  markdown: string,
  { linkOf, level, scope }: PagePlace,
  formulas: ReadonlyMap<string, string> = new Map(),
): string {
  const idOf = (heading: string): string => `${scope}${heading.toLowerCase().replace(/[^a-z0-9]+/g, '-')}`;
  return renderMarkdown(markdown, { linkOf, formulas, level, idOf });
}

/** What the block to paste gives: its verdicts, results and figure. */
function resultsHtml(page: HandbookPage, { level, scope }: PagePlace): string {
  const { results, checks, figure } = exampleResults(calculationOf(page)!);
  const rows = [
    ...checks.map(({ criterion, verdict }) => [
      textHtml(criterion),
      '',
      `<strong>${textHtml(verdict)}</strong>`,
    ]),
    ...results.map(({ meaning, symbol, value }) => [textHtml(meaning), texHtml(symbol), textHtml(value)]),
  ].map((cells) => `<tr>${cells.map((cell) => `<td>${cell}</td>`).join('')}</tr>`);
  const heading = `<h${level} id="${escapeMarkup(`${scope}gives`)}">What this block gives</h${level}>`;
  const drawing = figure ? drawFigure(figure.svg, figure.caption, `${scope}1`) : '';
  return `${heading}\n<table class="gives"><tbody>\n${rows.join('\n')}\n</tbody></table>\n${drawing}`;
}
