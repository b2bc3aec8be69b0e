import type { PDFDocumentLoadingTask } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { readForeign } from './open-document.ts';

/**
 * The text of each page of a PDF, in the order of its content.
 *
 * @throws {OutsideFailure} `pdf-damaged`
 */
export async function readPageTexts(bytes: Uint8Array): Promise<string[]> {
  const { getDocument } = await loadReader();
  // The library takes the buffer over: it gets a copy.
  const task = getDocument({ data: Uint8Array.from(bytes), verbosity: 0 });
  try {
    return await readForeign(() => readTexts(task));
  } finally {
    await task.destroy();
  }
}

/** With what the library draws in a browser: it asks for these when it is loaded, and reads texts without them. */
const MEANS_OF_DRAWING = ['DOMMatrix', 'ImageData', 'Path2D'];

async function loadReader(): Promise<typeof import('./pdfjs.ts')> {
  const world = globalThis as Record<string, unknown>;
  for (const name of MEANS_OF_DRAWING) world[name] ??= class {};
  return import('./pdfjs.ts');
}

async function readTexts(task: PDFDocumentLoadingTask): Promise<string[]> {
  const document = await task.promise;
  const texts: string[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const { items } = await (await document.getPage(number)).getTextContent();
    texts.push(items.map((item) => ('str' in item ? item.str + (item.hasEOL ? '\n' : '') : '')).join(''));
  }
  return texts;
}
