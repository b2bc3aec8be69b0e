import { escapeMarkup } from '../markup/escape-markup.ts';

/** A name of the source as code; it may be broken behind an underline or a point. */
export function codeHtml(name: string): string {
  const parts = name.split(/(?<=[_.])/).map(escapeMarkup);
  return `<code>${parts.join('<wbr>')}</code>`;
}
