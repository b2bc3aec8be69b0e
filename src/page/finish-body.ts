import { finishTables } from './finish-tables.ts';
import { stateHeadingLevels } from './heading-levels.ts';

/** Headings with their levels and tables with names, in the body of a page: before it stand megabytes of fonts, which nobody needs to look through. */
export function finishBody(page: string): string {
  const at = Math.max(0, page.indexOf('<body'));
  return `${page.slice(0, at)}${finishTables(stateHeadingLevels(page.slice(at)))}`;
}
