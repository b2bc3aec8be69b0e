import { escapeMarkup } from '../markup/escape-markup.ts';
import { textHtml } from './text-html.ts';

/**
 * A figure of a calculation with its caption. The drawing is a picture with words for readers who do not see it.
 *
 * @param alternative what it shows, where the caption does not say it
 */
export function drawFigure(svg: string, caption: string, number: string, alternative = caption): string {
  return (
    `<figure id="figure-${number}"${isNarrow(svg) ? ' class="narrow"' : ''}>${describeDrawing(svg, alternative)}` +
    `<figcaption><span class="number">Figure ${number}</span> ${textHtml(caption)}</figcaption></figure>`
  );
}

/** A drawing as a picture, with words for readers who do not see it. */
export function describeDrawing(svg: string, alternative: string): string {
  return svg.replace(/<svg\b[^>]*>/, (tag) => {
    const plain = tag.replace(/\s(?:role|aria-label|aria-labelledby)="[^"]*"/g, '');
    return plain.replace(/^<svg/, `<svg role="img" aria-label="${escapeMarkup(alternative)}"`);
  });
}

/** In millimetres: beside such a drawing there is room for text, or for another one. */
const NARROW = 90;

function isNarrow(svg: string): boolean {
  const width = /^<svg\b[^>]*\swidth="([\d.]+)mm"/.exec(svg);
  return width !== null && Number(width[1]) <= NARROW;
}
