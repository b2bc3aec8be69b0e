import { textHtml } from './text-html.ts';

/** A figure of a calculation with its caption. The drawing itself says, for readers who do not see it, what it shows. */
export function drawFigure(svg: string, caption: string, number: string): string {
  return (
    `<figure id="figure-${number}"${isNarrow(svg) ? ' class="narrow"' : ''}>${svg}` +
    `<figcaption><span class="number">Figure ${number}</span> ${textHtml(caption)}</figcaption></figure>`
  );
}

/** In millimetres: beside such a drawing there is room for text, or for another one. */
const NARROW = 100;

/** Whether what follows stands beside a drawing; else it stands before it, and fills the page where the drawing has no room. */
export function isNarrow(svg: string): boolean {
  const width = /^<svg\b[^>]*\swidth="([\d.]+)mm"/.exec(svg);
  return width !== null && Number(width[1]) <= NARROW;
}
