import Handlebars from 'handlebars';

/** A text as it may stand in HTML, in an element as in a quoted attribute. */
export function escapeHtml(text: string): string {
  return Handlebars.Utils.escapeExpression(text);
}
