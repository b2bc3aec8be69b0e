/** Between a table and what stands before it, a paragraph apart: there the browser may begin a page. */
const BREAK_BEFORE_TABLE = '<div class="table-break"></div>';

/**
 * Lets the keys reach tables, which may have to scroll on a narrow screen, and gives the author's, which have no captions, the name of the
 * heading under which they stand. Of print nothing of that is seen. That the first rows of a table stay with its head keeps the table, in the
 * browser that prints, with the one before it too, and leaves holes in pages: an empty element between them ends that.
 */
export function finishTables(html: string): string {
  return nameTables(html).replace(
    /(<\/(?:table|div|ul|ol)>\s*)(?=<table\b(?! class="callouts"))/g,
    `$1${BREAK_BEFORE_TABLE}`,
  );
}

function nameTables(html: string): string {
  let heading = '';
  return html.replace(/<h[1-6][\s>].*?<\/h[1-6]>|<table(?=[\s>])[^>]*>/gs, (found, at: number) => {
    if (found.startsWith('<h')) {
      heading = found
        .replace(/<[^>]*>/g, '')
        .replace(/\s+/g, ' ')
        .replaceAll('"', '&quot;')
        .trim();
      return found;
    }
    const hasCaption = html.slice(at, html.indexOf('</table>', at)).includes('<caption');
    const name = hasCaption ? '' : ` aria-label="${heading === '' ? 'Table' : `Table under “${heading}”`}"`;
    return found.replace(/>$/, `${name} tabindex="0">`);
  });
}
