/** What a reader of the page sees and hears, for assertions. */

const ENTITIES: Readonly<Record<string, string>> = {
  '&lt;': '<',
  '&gt;': '>',
  '&amp;': '&',
  '&quot;': '"',
  '&#x27;': "'",
  '&#x3D;': '=',
  '&#x60;': '`',
  '&#x26;': '&',
  '&#x3C;': '<',
};

/** The text of HTML; blanks run together, tied ones too. */
export function readText(html: string): string {
  return html
    .replace(/<wbr>/g, '')
    .replace(/<span class="page-number"[^>]*>\d*<\/span>/g, '')
    .replace(/<\/?(?:a|span|b|strong|em|i|code|sup)\b[^>]*>/g, '')
    .replace(/<[^>]*>/g, ' ')
    .replace(/&[#\w]+;/g, (entity) => ENTITIES[entity] ?? entity)
    .replace(/[\s\u00a0]+/g, ' ')
    .trim();
}

export function readHeadings(html: string): { level: number; text: string }[] {
  return [...html.matchAll(/<h([1-6])\b[^>]*>([\s\S]*?)<\/h\1>/g)].map((match) => ({
    level: Number(match[1]),
    text: readText(match[2]!),
  }));
}
