import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { readForeign } from './open-document.ts';

/** A page as it looks, four bytes (red, green, blue, opacity) for each point of the raster. */
export interface DrawnPage {
  readonly width: number;
  readonly height: number;
  readonly points: Uint8ClampedArray;
}

/** Draws the pages of a PDF. */
export interface PageDrawer {
  /** What draws, such as "pdfjs 5.6.205". */
  readonly tool: string;
  readonly pageCount: number;
  /** A page, counted from 1. @throws {OutsideFailure} `pdf-damaged` */
  draw(page: number): Promise<DrawnPage>;
  close(): Promise<void>;
}

export const POINTS_PER_INCH = 72;
/** Larger sides are no page of ours: A3 has 1191. */
const LONGEST_SIDE = 2400;
/** Larger pictures within a page are left out. */
const LARGEST_PICTURE = 64_000_000;

/**
 * Opens a PDF, which may come from anybody, to draw its pages. Undefined where the machine has no canvas: the library that draws has it
 * as an optional package, built for the usual platforms.
 *
 * @throws {OutsideFailure} `pdf-damaged`
 */
export async function openPageDrawer(bytes: Uint8Array): Promise<PageDrawer | undefined> {
  const canvases = await loadCanvas();
  if (!canvases) return undefined;
  const { version } = await import('pdfjs-dist/legacy/build/pdf.mjs');
  const task = getDocument({
    // The library takes the buffer over: it gets a copy.
    data: Uint8Array.from(bytes),
    verbosity: 0,
    isEvalSupported: false,
    useSystemFonts: false,
    disableFontFace: true,
    maxImageSize: LARGEST_PICTURE,
    stopAtErrors: false,
  });
  const document = await readForeign(() => task.promise);
  return {
    tool: `pdfjs ${version}`,
    pageCount: document.numPages,
    draw: (number) =>
      readForeign(async () => {
        const page = await document.getPage(number);
        const viewport = page.getViewport({ scale: POINTS_PER_INCH / 72 });
        const [width, height] = [Math.ceil(viewport.width), Math.ceil(viewport.height)];
        if (!(width > 0 && height > 0 && width <= LONGEST_SIDE && height <= LONGEST_SIDE))
          throw new Error(`page ${number} is ${width} by ${height} points large`);
        const canvas = canvases.createCanvas(width, height);
        const context = canvas.getContext('2d');
        context.fillStyle = '#fff';
        context.fillRect(0, 0, width, height);
        await page.render({ canvas: canvas as never, canvasContext: context as never, viewport }).promise;
        page.cleanup();
        return { width, height, points: context.getImageData(0, 0, width, height).data };
      }),
    close: () => task.destroy(),
  };
}

interface Canvases {
  createCanvas(
    width: number,
    height: number,
  ): {
    getContext(kind: '2d'): {
      fillStyle: string;
      fillRect(x: number, y: number, width: number, height: number): void;
      getImageData(x: number, y: number, width: number, height: number): { readonly data: Uint8ClampedArray };
    };
  };
}

async function loadCanvas(): Promise<Canvases | undefined> {
  try {
    return (await import('@napi-rs/canvas')) as unknown as Canvases;
  } catch {
    return undefined;
  }
}
