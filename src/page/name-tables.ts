/**
 * Lets the keys reach tables, which may have to scroll on a narrow screen, and gives the author's, which have no captions, the name of the
 * heading under which they stand. Of print nothing of it is seen.
 */
export function nameTables(html: string): string {
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
