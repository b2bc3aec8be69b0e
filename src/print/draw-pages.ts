import { readFileSync } from 'node:fs';
import { PNG } from 'pngjs';
import type { Browser } from 'puppeteer-core';
import { type DrawnPage, POINTS_PER_INCH } from '../pdf/drawn-page.ts';
import { readForeign } from '../pdf/open-document.ts';

/** Draws the pages of a PDF. */
export interface PageDrawer {
  /** What draws, such as "pdfjs 5.6.205". */
  readonly tool: string;
  readonly pageCount: number;
  /** A page, counted from 1. @throws {OutsideFailure} `pdf-damaged` */
  draw(page: number): Promise<DrawnPage>;
  close(): Promise<void>;
}

/** Larger sides are no page of ours: A3 has 1191. */
const LONGEST_SIDE = 2400;
/** Larger pictures within a page are left out. */
const LARGEST_PICTURE = 64_000_000;

/** Made by `build.js` of `in-page/draw-pdf.ts`; two folders above the program as above its source. */
const SCRIPT = new URL('../../dist/site/draw-pdf.js', import.meta.url);

/**
 * Opens a PDF, which may come from anybody, to draw its pages: in a page of the browser, which reaches nothing and ends with it.
 *
 * @throws {OutsideFailure} `pdf-damaged`
 */
export async function openPageDrawer(browser: Browser, bytes: Uint8Array): Promise<PageDrawer> {
  const page = await browser.newPage();
  const call = (expression: string): Promise<unknown> => readForeign(() => page.evaluate(expression));
  const close = (): Promise<void> => page.close().catch(() => {});
  try {
    await page.setOfflineMode(true);
    await page.evaluate(readFileSync(SCRIPT, 'utf8'));
    const pdf = JSON.stringify(Buffer.from(bytes).toString('base64'));
    const opened = await call(`drawPdf.open(${pdf}, ${LARGEST_PICTURE})`);
    const { version, pageCount } = opened as { readonly version: string; readonly pageCount: number };
    return {
      tool: `pdfjs ${version}`,
      pageCount,
      draw: async (number) => {
        const drawn = await call(`drawPdf.draw(${number}, ${POINTS_PER_INCH / 72}, ${LONGEST_SIDE})`);
        const { width, height, data } = PNG.sync.read(Buffer.from(String(drawn), 'base64'));
        return { width, height, points: data };
      },
      close,
    };
  } catch (failure) {
    await close();
    throw failure;
  }
}
