import 'pdfjs-dist/legacy/build/pdf.worker.mjs';
import { getDocument, type PDFDocumentProxy, version } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** Draws a PDF in the browser that prints: a script of its own, which `draw-pages.ts` puts into an empty page. */

/** What of a browser's world is used here; this program knows no names of it. */
interface Browser {
  readonly document: {
    createElement(name: 'canvas'): Canvas;
  };
  atob(text: string): string;
  /** What `draw-pages.ts` calls. */
  drawPdf: {
    open(base64: string, largestPicture: number): Promise<{ version: string; pageCount: number }>;
    draw(page: number, scale: number, longestSide: number): Promise<string>;
  };
}

interface Canvas {
  width: number;
  height: number;
  getContext(kind: '2d'): {
    fillStyle: string;
    fillRect(x: number, y: number, width: number, height: number): void;
  };
  toDataURL(type: string): string;
}

const browser = globalThis as unknown as Browser;
let opened: PDFDocumentProxy;

browser.drawPdf = {
  async open(base64, largestPicture) {
    opened = await getDocument({
      data: Uint8Array.from(browser.atob(base64), (letter) => letter.charCodeAt(0)),
      verbosity: 0,
      isEvalSupported: false,
      useSystemFonts: false,
      disableFontFace: true,
      maxImageSize: largestPicture,
      stopAtErrors: false,
    }).promise;
    return { version, pageCount: opened.numPages };
  },

  async draw(number, scale, longestSide) {
    const page = await opened.getPage(number);
    const viewport = page.getViewport({ scale });
    const [width, height] = [Math.ceil(viewport.width), Math.ceil(viewport.height)];
    if (!(width > 0 && height > 0 && width <= longestSide && height <= longestSide))
      throw new Error(`page ${number} is ${width} by ${height} points large`);
    const canvas = browser.document.createElement('canvas');
    canvas.width = width;
    canvas.height = height;
    const context = canvas.getContext('2d');
    context.fillStyle = '#fff';
    context.fillRect(0, 0, width, height);
    await page.render({ canvas: canvas as never, canvasContext: context as never, viewport }).promise;
    page.cleanup();
    return canvas.toDataURL('image/png').replace('data:image/png;base64,', '');
  },
};
