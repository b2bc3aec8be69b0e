/** What of a page may be left empty before a figure that has no more room on it. */
const HOLE = 0.1;

/** A figure over the whole width, or those of variants, which stand at the end of their calculation. That of a schedule shows its verdicts. */
const FIGURES = '.calculation:not(.schedule) > :is(figure, .figures:not(.narrow))';
/** Before these a figure may stand as well: behind the givens that it draws, and not within steps, checks or cautions. */
const MAY_FOLLOW =
  '.judged, .steps, .values, .results, .row-steps, .repeated, .limiting, .cautions, :not(.of-check) + .checks';
/** Not further up than behind these. */
const GIVENS = 'h1, h2, h3, h4, h5, h6, .purpose, .unchanged, .members, .givens, .given-table';

/**
 * A function of a script for the debugger, to run where the page is laid out in columns (`lay-in-columns.ts`): in a part of the document, a figure
 * at the end of its calculation before which a page would be left with a hole goes up to the nearest place in that calculation with
 * which the calculation ends earlier by most of it. Where there is none, it stays. The function gives one that takes all of that back.
 */
export function figureMover(room: number, width: number): string {
  return `((part) => {
    const pageOf = (box) => Math.floor((box.left + window.scrollX + 1) / ${width});
    const takenBy = (box) => (box.bottom + window.scrollY) / ${room};
    const lastBox = (part) => [...part.getClientRects()].at(-1);
    const endOf = (part) => { const box = lastBox(part); return pageOf(box) + takenBy(box); };
    const back = [];
    for (const figure of part.querySelectorAll('${FIGURES}')) {
      const section = figure.parentElement;
      const follows = figure.nextSibling;
      let before = figure.previousElementSibling;
      while (before && !lastBox(before)?.height) before = before.previousElementSibling;
      const box = figure.getClientRects()[0];
      if (!before || !box || pageOf(box) === pageOf(lastBox(before))) continue;
      const hole = 1 - takenBy(lastBox(before));
      if (hole < ${HOLE}) continue;
      const end = endOf(section);
      let found = false;
      for (let place = figure.previousElementSibling; place && !found && !place.matches('${GIVENS}'); ) {
        const next = place.previousElementSibling;
        if (place.matches('${MAY_FOLLOW}')) {
          place.before(figure);
          found = end - endOf(section) >= hole / 2;
        }
        place = next;
      }
      if (found) back.push([figure, follows]);
      else section.insertBefore(figure, follows);
    }
    return () => { for (const [figure, follows] of back) figure.parentElement.insertBefore(figure, follows); };
  })`;
}
