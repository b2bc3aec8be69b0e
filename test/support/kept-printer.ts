import { afterAll } from 'vitest';
import { openDocument } from '../../src/pdf/open-document.ts';
import { openPrinter as startPrinter } from '../../src/print/print-document.ts';

type Printer = Awaited<ReturnType<typeof startPrinter>>;
type PrinterOptions = Parameters<typeof startPrinter>[0];

/** What decides which browser is started, and how, as it is when the worker begins. */
const SURROUNDINGS = [
  'SURGENOTE_BROWSER',
  'PUPPETEER_CACHE_DIR',
  'XDG_CACHE_HOME',
  'HOME',
  'TMPDIR',
  'PATH',
].map((name) => [name, process.env[name]] as const);

let kept: Promise<Printer> | undefined;
let starts = 0;

/** How many browsers this worker has started for what prints through `openPrinter` below. */
export const browserStarts = (): number => starts;

/** What was printed, by the page; undefined where every print is one of its own. */
let printed: Map<string, ReturnType<Printer['print']>> | undefined;

/**
 * For a file that verifies one page many times: from here to its end, a page that was printed once is not printed again, whatever
 * is known of its page numbers. That a second print has the same bytes is not for such a file to show; `print-document.test.ts`,
 * `compile-example.test.ts` and `sign-off-story.test.ts` do.
 */
export function printEachPageOnce(): void {
  printed = new Map();
  afterAll(() => {
    printed = undefined;
  });
}

/**
 * The printer of this worker, which all its tests share: a browser takes longer to start than to print a page. Closing it does
 * nothing, it ends with the worker. Who asks for another browser, time or surroundings gets a printer of his own.
 *
 * The commands that tests run inside a worker get it in place of their own `openPrinter` (`vitest.config.ts`). How the program
 * starts and ends a browser is tested in `test/print/`, and wherever a test runs the built program.
 */
export async function openPrinter(options: PrinterOptions): Promise<Printer> {
  const { environment, onStart, onSlow, ...others } = options;
  if (Object.keys(others).length > 0 || SURROUNDINGS.some(([name, value]) => environment[name] !== value)) {
    starts += 1;
    return startPrinter(options);
  }
  if (!kept) {
    starts += 1;
    kept = startPrinter({ environment, ...(onSlow && { onSlow }) });
  }
  onStart?.(); // Whether the browser runs already, nobody who shares it waits to learn.
  const own = kept;
  const forget = (failure: unknown): never => {
    if (kept === own) kept = undefined;
    throw failure;
  };
  const printer = await own.catch(forget);
  const print: Printer['print'] = async (html, request) => {
    const known = await printed?.get(html);
    // Whoever finishes a print changes its document: each has one of his own.
    if (known) return { ...known, document: await openDocument(known.pdf) };
    const printing = printer.print(html, request).catch((failure: unknown) => {
      printed?.delete(html);
      // A browser that ended prints nothing more.
      if (failure instanceof Error && 'code' in failure && failure.code === 'browser-ended') forget(failure);
      throw failure;
    });
    printed?.set(html, printing);
    return printing;
  };
  return { ...printer, print, close: async () => {} };
}
