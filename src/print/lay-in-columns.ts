/** The page on paper, as a page of ours declares it: its height, and its margins at the top and the bottom, in millimetres. */
const SHEET = /@page \{\s*size: [\d.]+mm ([\d.]+)mm;\s*margin: ([\d.]+)mm [\d.]+mm ([\d.]+)mm/;

const PIXELS_OF_A_MILLIMETRE = 96 / 25.4;
/** So many pixels more than its own height a page holds: found by trial, with which most notes are guessed right. */
const MORE = 3;

/** The room of a page for text, in pixels; undefined where the page does not declare its size. */
export function roomOfPage(html: string): number | undefined {
  const [, height, top, bottom] = (SHEET.exec(html) ?? []).map(Number);
  return height === undefined ? undefined : (height - top! - bottom!) * PIXELS_OF_A_MILLIMETRE + MORE;
}

/**
 * A script for the debugger, to run where the page is laid out for print: lays the document out in columns as high as a page, each forced break
 * being one of columns, so that the column of a part is the page on which it will stand. That costs a quarter of a print. Long tables and
 * sheets of other sizes may come to stand elsewhere. It leaves one style sheet of the debugger behind.
 *
 * @param room of a page, as `roomOfPage` has it
 */
export function layInColumns(room: number, width: number): string {
  return `{
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
  }`;
}
