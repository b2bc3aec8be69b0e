/** A part of the page that is wider than its place. */
export interface Overflow {
  /** The heading under which it stands. */
  readonly under: string;
  /** The beginning of its text. */
  readonly text: string;
}

/** The width of the column as the page declares it, in CSS pixels; undefined where it declares none. */
export function columnOf(html: string): number | undefined {
  const millimetres = /--column-width: ([\d.]+)mm/.exec(html)?.[1];
  return millimetres === undefined
    ? undefined
    : (Number(millimetres) * PIXELS_OF_AN_INCH) / MILLIMETRES_OF_AN_INCH;
}

const PIXELS_OF_AN_INCH = 96;
const MILLIMETRES_OF_AN_INCH = 25.4;

/**
 * A script for the debugger, to run where the page is laid out for print in a window as wide as its column: every part that reaches
 * beyond the column, or beyond its sheet, by which a browser would make the whole document smaller, and every text that reaches beyond its own
 * box and would stand on what is beside it. Of formulas the pieces count between which a line may end.
 */
export const FIND_OVERFLOW = `(() => {
  const found = [];
  let under = '';
  const judge = (part, formula, edge, end) => {
    const isBeyond = (box) => box.width > 0 && (box.right > edge || box.bottom > end);
    const beyond = [...part.getClientRects()].some(isBeyond);
    const spills = !formula && /^(?:P|TD|TH|LI|CAPTION|FIGCAPTION|H[1-6])$/.test(part.tagName) &&
      part.clientWidth > 0 && part.scrollWidth > part.clientWidth + 4;
    if (!beyond && !spills) return;
    if ([...part.children].some((inner) => [...inner.getClientRects()].some(isBeyond))) return;
    const width = part.getBoundingClientRect().width;
    found.push({ width, under, text: (formula ?? part).textContent.trim().replace(/\\s+/g, ' ').slice(0, 60) });
  };
  // Down from part to part: most of a page stands within drawings and formulas, where hardly any part is asked for.
  const visit = (parent, edge, end) => {
    for (const part of parent.children) {
      if (/^H[1-6]$/.test(part.tagName)) under = part.textContent.trim();
      const { classList } = part;
      if (part.tagName === 'svg' || classList.contains('unseen') || classList.contains('mark')) continue;
      if (classList.contains('katex')) {
        for (const base of part.querySelectorAll('.base')) judge(base, part, edge, end);
        continue;
      }
      // A drawing on a sheet has the room of that sheet, and must not reach beyond its lower end either.
      const sheet = classList.contains('sheet') ? part.getBoundingClientRect() : undefined;
      const [right, bottom] = sheet ? [sheet.right + 1, sheet.bottom + 1] : [edge, end];
      judge(part, undefined, right, bottom);
      visit(part, right, bottom);
    }
  };
  visit(document.body, window.innerWidth + 1, Infinity);
  // The widest first: what stands beside it is only pushed aside.
  return found.sort((a, b) => b.width - a.width || b.text.length - a.text.length).slice(0, 3).map(({ under, text }) => ({ under, text }));
})()`;
