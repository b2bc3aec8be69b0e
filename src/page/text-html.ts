import { escapeMarkup } from '../markup/escape-markup.ts';
import { tieUnits } from './tie-units.ts';

/** A text as it stands on a page, as HTML: no line ends between a number and its unit. */
export function textHtml(text: string): string {
  return escapeMarkup(tieUnits(text));
}
