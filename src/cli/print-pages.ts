import { join } from 'node:path';
import type { Collector } from '../diagnostics/collector.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { RenderedNote } from '../page/render-note.ts';
import { prepareFinish } from '../pdf/finish-pdf.ts';
import { type PackingThread, startPackingThread } from '../pdf/packing-thread.ts';
import { recallPages, rememberPages } from '../print/page-memory.ts';
import type { PageMap } from '../print/page-numbers.ts';
import { openPrinter, type Printer } from '../print/print-document.ts';
import type { DocumentPage } from './make-pages.ts';
import { printOnRecord } from './print-on-record.ts';
import { refuseStrangeGlyphs } from './refuse-strange-glyphs.ts';
import type { Terminal } from './terminal.ts';

/** What is printed: the page of a note or a submittal, or one that a PDF carries. */
export interface Printable extends Pick<DocumentPage, 'folder' | 'path' | 'document' | 'attachments'> {
  readonly rendered: Pick<RenderedNote, 'html' | 'fonts'>;
}

/** The finished PDF of a page, not signed. */
export interface PrintedPage<Page extends Printable = DocumentPage> {
  readonly page: Page;
  readonly pdf: Uint8Array;
  /** Where each part begins. */
  readonly pageMap: PageMap;
  /** The browser and its build. */
  readonly browser: string;
  /** The text of the record of this print. */
  readonly record: string;
  /** The file of that record as it was before; null where there was none. */
  readonly was: Uint8Array | null;
}

export interface PrintOptions {
  /** The browser to print with. */
  readonly browser?: string;
  /** Where the parts of the one page began when it was printed before: where they still do, one pass is enough. */
  readonly knownPageMap?: PageMap;
  /** Whether that is remembered on this machine from print to print: for pages that are printed again and again. */
  readonly remembers?: boolean;
  /** One that was started before. */
  readonly printer?: StartedPrinter;
}

/** A browser that is starting while other work is done. It must be closed. */
export interface StartedPrinter {
  /** Fails where no browser starts. */
  readonly opened: Promise<Printer>;
  close(): Promise<void>;
}

/** Starts a browser and goes on as soon as its program runs; where none can be started, `opened` says so later. */
export async function startPrinter(browser: string | undefined, terminal: Terminal): Promise<StartedPrinter> {
  terminal.progress('starting the browser');
  let goOn = (): void => {};
  const started = new Promise<void>((resolve) => {
    goOn = resolve;
  });
  const opened = openPrinter({
    environment: process.env,
    ...(browser ? { path: browser } : {}),
    onStart: goOn,
    onSlow: (seconds) =>
      terminal.err(
        `the browser has not answered for 10 s; it is waited for up to ${seconds} s (SURGENOTE_BROWSER_START)`,
      ),
  });
  const close = (): Promise<void> =>
    opened.then(
      (printer) => printer.close(),
      () => {},
    );
  await Promise.race([started, opened.catch(() => {})]);
  return { opened, close };
}

/**
 * Prints pages in one browser, two at a time where they are not long: while this process works on one, the browser works on the next. What
 * is said of them comes in their order, and so does the first failure.
 *
 * @throws {OutsideFailure} when there is no browser, or it fails
 */
export async function printPages<Page extends Printable>(
  pages: readonly Page[],
  options: PrintOptions,
  terminal: Terminal,
): Promise<readonly PrintedPage<Page>[]> {
  return printAll(await open(options, terminal), pages, options, terminal);
}

/** As `printPages`; where no browser starts that failure is given back, for a command that has other work to do. */
export async function tryToPrint<Page extends Printable>(
  pages: readonly Page[],
  options: PrintOptions,
  terminal: Terminal,
): Promise<readonly PrintedPage<Page>[] | OutsideFailure> {
  let printer: Printer;
  try {
    printer = await open(options, terminal);
  } catch (failure) {
    if (failure instanceof OutsideFailure) return failure;
    throw failure;
  }
  return printAll(printer, pages, options, terminal);
}

async function open({ browser, printer }: PrintOptions, terminal: Terminal): Promise<Printer> {
  return (printer ?? (await startPrinter(browser, terminal))).opened;
}

async function printAll<Page extends Printable>(
  printer: Printer,
  pages: readonly Page[],
  options: PrintOptions,
  terminal: Terminal,
): Promise<readonly PrintedPage<Page>[]> {
  const thread = startPackingThread();
  try {
    for (const notice of printer.notices) terminal.err(notice);
    const printing: Promise<PrintedOnRecord<Page>>[] = [];
    const start = (i: number): void => {
      const job = {
        page: pages[i]!,
        printer,
        thread,
        words: `printing ${pages[i]!.path} (${i + 1} of ${pages.length})`,
      };
      const one = printPage(job, options, terminal);
      // Whoever waits for it in its turn learns of a failure; after an earlier one nobody does.
      one.catch(() => {});
      printing.push(one);
    };
    const printed: PrintedPage<Page>[] = [];
    for (const [i, page] of pages.entries()) {
      if (printing.length === i) start(i);
      const next = pages[i + 1];
      if (next && page.rendered.html.length + next.rendered.html.length < MOST_AT_ONCE) start(i + 1);
      const { cautions, ...one } = await printing[i]!;
      terminal.diagnostics(cautions.list(), cautions);
      printed.push(one);
    }
    return printed;
  } finally {
    thread.close();
    await printer.close();
  }
}

/** Signs of two pages that are printed at a time: longer ones would need more memory than some machines have. */
const MOST_AT_ONCE = 8_000_000;

/** A text that has no room is looked for in its note. */
function nameNote(failure: unknown, path: string): unknown {
  if (!(failure instanceof OutsideFailure) || failure.code !== 'print-overflow') return failure;
  const { code, message, hint } = failure;
  return new OutsideFailure(code, `${path}: ${message}`, hint === undefined ? {} : { hint });
}

interface PrintedOnRecord<Page extends Printable> extends PrintedPage<Page> {
  readonly cautions: Collector;
}

interface Job<Page extends Printable> {
  readonly page: Page;
  readonly printer: Printer;
  readonly thread: PackingThread;
  /** What the terminal says meanwhile. */
  readonly words: string;
}

async function printPage<Page extends Printable>(
  { page, printer, thread, words }: Job<Page>,
  { knownPageMap, remembers = false }: PrintOptions,
  terminal: Terminal,
): Promise<PrintedOnRecord<Page>> {
  const { folder, path, rendered, document, attachments } = page;
  const { html } = rendered;
  const { version: browser } = printer;
  const request = { ...document, producer: `${document.creator} with ${browser}`, attachments };
  const file = join(folder, path);
  let known = knownPageMap ?? (remembers ? await recallPages(process.env, file) : undefined);
  const finish = prepareFinish({ ...request, page: html }, thread);
  const print = async (attempt: number): Promise<Pick<PrintedPage<Page>, 'pdf' | 'pageMap'>> => {
    terminal.progress(attempt === 1 ? words : `${words}, again: not as recorded`);
    const printed = await printer
      .print(html, known ? { knownPageMap: known } : {})
      .catch((failure: unknown) => {
        throw nameNote(failure, path);
      });
    known = printed.pageMap;
    const finished = await finish(printed.document);
    refuseStrangeGlyphs(finished, rendered.fonts, path);
    return { pdf: finished.pdf, pageMap: printed.pageMap };
  };
  const order = { folder, note: path, browser, html, request };
  const { print: made, ...recorded } = await printOnRecord(order, print);
  if (remembers) await rememberPages(process.env, file, made.pageMap);
  return { page, ...made, browser, ...recorded };
}
