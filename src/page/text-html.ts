import { escapeMarkup } from '../markup/escape-markup.ts';
import { tieUnits } from './tie-units.ts';

/** A text as it stands on a page, as HTML: no line ends between a number and its unit, nor within the unit. */
export function textHtml(text: string): string {
  const html = escapeMarkup(tieUnits(text));
  if (!html.includes('\u00a0')) return html;
  return html.replace(QUOTIENT, (found, unit?: string) =>
    unit === undefined ? found : `<span class="whole">${found}</span>`,
  );
}

/** A number with a unit that is a quotient, behind whose stroke a line could end. */
const QUOTIENT = /[^\s<>"]+(\u00a0[\p{L}Ω°%·⁻⁰¹²³⁴-⁹]+\/[\p{L}Ω°·⁻⁰¹²³⁴-⁹/]+)?/gu;
