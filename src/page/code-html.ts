import { escapeHtml } from './escape-html.ts';

/** A name of the source as code; it may be broken behind an underline or a point. */
export function codeHtml(name: string): string {
  return `<code>${escapeHtml(name).replace(/[_.]/g, '$&<wbr>')}</code>`;
}
