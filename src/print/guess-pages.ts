/** The page on paper, as a page of ours declares it: its height, and its margins at the top and the bottom, in millimetres. */
const SHEET = /@page \{\s*size: [\d.]+mm ([\d.]+)mm;\s*margin: ([\d.]+)mm [\d.]+mm ([\d.]+)mm/;

const PIXELS_OF_A_MILLIMETRE = 96 / 25.4;
/** So many pixels more than its own height a page holds: found by trial, with which most notes are guessed right. */
const MORE = 3;

/**
 * A script for the debugger, to run where the page is laid out for print: guesses on which page each element of `ids` begins, by laying the
 * document out in columns as high as a page, which costs a quarter of a print. Long tables and sheets of other sizes may be guessed wrong.
 * It leaves one style sheet of the debugger behind.
 *
 * @returns undefined where the page does not declare its size; the script gives null where an element is not there
 */
export function guessPagesIn(html: string, ids: readonly string[], width: number): string | undefined {
  const [, height, top, bottom] = (SHEET.exec(html) ?? []).map(Number);
  if (height === undefined) return undefined;
  const room = (height - top! - bottom!) * PIXELS_OF_A_MILLIMETRE + MORE;
  return `(() => {
    const breaks = [];
    const collect = (rules) => {
      for (const rule of rules) {
        if (rule.media && !matchMedia(rule.media.mediaText).matches) continue;
        for (const name of ['break-before', 'break-after']) {
          const value = rule.style?.getPropertyValue(name);
          if (value && rule.selectorText)
            breaks.push(rule.selectorText + ' { ' + name + ': ' + (value === 'page' ? 'column' : value) + ' }');
        }
        if (rule.cssRules) collect(rule.cssRules);
      }
    };
    for (const sheet of document.styleSheets) collect(sheet.cssRules);
    const columns = new CSSStyleSheet();
    columns.replaceSync(breaks.join('\\n') + '\\nbody { margin: 0 !important; columns: ${width}px auto !important; ' +
      'column-gap: 0 !important; column-fill: auto !important; width: ${width}px !important; height: ${room}px !important; }');
    document.adoptedStyleSheets = [columns];
    const pages = {};
    for (const id of ${JSON.stringify(ids)}) {
      const box = document.getElementById(id)?.getClientRects()[0];
      if (!box) return null;
      pages[id] = Math.floor((box.left + window.scrollX + 1) / ${width}) + 1;
    }
    return pages;
  })()`;
}
