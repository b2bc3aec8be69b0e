import { textHtml } from './text-html.ts';

/** A figure of a calculation with its caption. The drawing itself says, for readers who do not see it, what it shows. */
export function drawFigure(svg: string, caption: string, number: string): string {
  return (
    `<figure id="figure-${number}"${isNarrow(svg) ? ' class="narrow"' : ''}>${svg}` +
    `<figcaption><span class="number">Figure ${number}</span> ${textHtml(caption)}</figcaption></figure>`
  );
}

/** In millimetres: beside drawings that are no wider together there is room for text. */
const NARROW = 102;
/** Between drawings, and what a caption takes at least, as the style sheet has it. */
const GAP = 5;
const LEAST_CAPTION = 48;

/** Whether what follows stands beside drawings; else it stands before them, and fills the page where they have no room. */
export function isNarrow(...svgs: readonly string[]): boolean {
  const widths = svgs.map((svg) => {
    const width = /^<svg\b[^>]*\swidth="([\d.]+)mm"/.exec(svg);
    return width ? Math.max(LEAST_CAPTION, Number(width[1])) : Number.POSITIVE_INFINITY;
  });
  return widths.reduce((sum, width) => sum + width, GAP * (svgs.length - 1)) <= NARROW;
}
