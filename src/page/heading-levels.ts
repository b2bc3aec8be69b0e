/** The deepest level for which PDF 1.7 has a tag. */
const DEEPEST = 6;

/**
 * States the level of each heading in the `main` part of a document: one below the title, which alone is of the first level,
 * while `h1` to `h6` shape the parts of the text. Readers that go by headings, tags and bookmarks take the stated level.
 */
export function stateHeadingLevels(html: string): string {
  const at = html.indexOf('<main');
  if (at < 0) throw new Error('A page without a main part has no headings to be levelled.');
  return html.slice(0, at) + levelHeadings(html.slice(at));
}

/** As `stateHeadingLevels`, of HTML that stands within the `main` part. */
export function levelHeadings(html: string): string {
  return html.replace(/(<h([1-6])(?:\s[^>]*)?)>/g, (_, head: string, level: string) => {
    return `${head} aria-level="${Math.min(Number(level) + 1, DEEPEST)}">`;
  });
}
