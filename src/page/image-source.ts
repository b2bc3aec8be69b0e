import { createHash } from 'node:crypto';
import { rootTag } from '../markup/root-tag.ts';
import { drawingFontFaces, TABLE_FAMILY, TEXT_FAMILY } from './fonts.ts';

/** A file of the project that the note shows. */
export interface PageImage {
  readonly mime: string;
  readonly bytes: Uint8Array;
}

/** The address that carries an image within the page. */
export function imageSource({ mime, bytes }: PageImage): string {
  const content = mime === 'image/svg+xml' ? dressDrawing(Buffer.from(bytes).toString('utf8')) : bytes;
  return `data:${mime};base64,${Buffer.from(content).toString('base64')}`;
}

/**
 * Gives the lettering of a drawing the fonts of the page. A drawing that is shown as an image sees nothing of the page
 * around it, and would take whatever fonts the machine has: it must carry its own.
 */
function dressDrawing(svg: string): string {
  if (!/<(?:text|textPath|tspan)\b/.test(svg)) return svg;
  const families = `"${TABLE_FAMILY}","${TEXT_FAMILY}"`;
  const name = createHash('sha256').update(svg).digest('hex').slice(0, 16);
  const style =
    `<style>${drawingFontFaces(name)}\n` +
    `text,textPath,tspan{font-family:${families} !important;font-synthesis:none}</style>`;
  const root = rootTag(svg);
  if (!root || root.text.endsWith('/>')) return svg;
  return svg.slice(0, root.end) + style + svg.slice(root.end);
}
