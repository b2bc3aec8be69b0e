import { finishTables } from './finish-tables.ts';
import { stateHeadingLevels } from './heading-levels.ts';

/**
 * Stands for the style sheets while a page is put together: they hold megabytes of fonts, which nobody needs to look through or to copy. Before
 * it stands nothing of a note but its title, in which "<" is escaped.
 */
export const STYLES_MARK = '<!-- styles -->';

/** Headings with their levels and tables with names, in the body of a page. */
export function finishBody(page: string): string {
  const body = bodyOf(page);
  return `${page.slice(0, -body.length)}${finishTables(stateHeadingLevels(body))}`;
}

/** A page from its body on. */
export function bodyOf(page: string): string {
  return page.slice(Math.max(0, page.indexOf('<body')));
}

/** The page with its style sheets. */
export function insertStyles(page: string, styles: string): string {
  const at = page.indexOf(STYLES_MARK);
  return `${page.slice(0, at)}${styles}${page.slice(at + STYLES_MARK.length)}`;
}
