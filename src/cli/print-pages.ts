import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { Software } from '../page/cover-view.ts';
import { type FinishRequest, finishPdf } from '../pdf/finish-pdf.ts';
import type { PageMap } from '../print/page-numbers.ts';
import { openPrinter, type Printer } from '../print/print-document.ts';
import type { NotePage } from './make-pages.ts';
import { printOnRecord } from './print-on-record.ts';
import { refuseStrangeGlyphs } from './refuse-strange-glyphs.ts';
import { SOFTWARE } from './software.ts';
import type { Terminal } from './terminal.ts';

/** The finished PDF of a page, not signed. */
export interface PrintedPage {
  readonly page: NotePage;
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
  readonly software?: Software;
  /** Where the parts of the one page began when it was printed before: where they still do, one pass is enough. */
  readonly knownPageMap?: PageMap;
}

/**
 * Prints pages one after the other in one browser.
 *
 * @throws {OutsideFailure} when there is no browser, or it fails
 */
export async function printPages(
  pages: readonly NotePage[],
  options: PrintOptions,
  terminal: Terminal,
): Promise<readonly PrintedPage[]> {
  return printAll(await open(options, terminal), pages, options, terminal);
}

/** As `printPages`; where no browser starts that failure is given back, for a command that has other work to do. */
export async function tryToPrint(
  pages: readonly NotePage[],
  options: PrintOptions,
  terminal: Terminal,
): Promise<readonly PrintedPage[] | OutsideFailure> {
  let printer: Printer;
  try {
    printer = await open(options, terminal);
  } catch (failure) {
    if (failure instanceof OutsideFailure) return failure;
    throw failure;
  }
  return printAll(printer, pages, options, terminal);
}

function open({ browser }: PrintOptions, terminal: Terminal): Promise<Printer> {
  terminal.progress('starting the browser');
  return openPrinter({ environment: process.env, ...(browser ? { path: browser } : {}) });
}

async function printAll(
  printer: Printer,
  pages: readonly NotePage[],
  options: PrintOptions,
  terminal: Terminal,
): Promise<readonly PrintedPage[]> {
  try {
    for (const notice of printer.notices) terminal.err(notice);
    const printed: PrintedPage[] = [];
    for (const [i, page] of pages.entries()) {
      const job = { page, printer, words: `printing ${page.note.source.path} (${i + 1} of ${pages.length})` };
      printed.push(await printPage(job, options, terminal));
    }
    return printed;
  } finally {
    await printer.close();
  }
}

interface Job {
  readonly page: NotePage;
  readonly printer: Printer;
  /** What the terminal says meanwhile. */
  readonly words: string;
}

async function printPage(
  { page, printer, words }: Job,
  { software = SOFTWARE, knownPageMap }: PrintOptions,
  terminal: Terminal,
): Promise<PrintedPage> {
  const { folder, note, rendered } = page;
  const { path } = note.source;
  const { html } = rendered;
  const { version: browser } = printer;
  const request = wordRequest(page, `${software.name} ${software.version}`, browser);
  const print = async (attempt: number): Promise<Pick<PrintedPage, 'pdf' | 'pageMap'>> => {
    terminal.progress(attempt === 1 ? words : `${words}, again: not as recorded`);
    const printed = await printer.print(html, knownPageMap ? { knownPageMap } : {});
    const finished = await finishPdf(printed.pdf, request);
    refuseStrangeGlyphs(finished, rendered.fonts, path);
    return { pdf: finished.pdf, pageMap: printed.pageMap };
  };
  const order = { folder, note: path, browser, html, request };
  const result = await printOnRecord(order, print, terminal);
  return { page, ...result.print, browser, record: result.record, was: result.was };
}

function wordRequest(page: NotePage, program: string, browser: string): FinishRequest {
  const { note, project, rendered, review, attachments, signatureFields } = page;
  const { frontMatter } = note.source;
  const preparer = project.people.find((person) => person.key === frontMatter.prepared);
  return {
    title: rendered.title,
    author: preparer?.name ?? project.company?.name ?? project.title,
    subject: `${project.title}; ${frontMatter.documentType}, revision ${frontMatter.revision}`,
    keywords: [frontMatter.number, project.client, project.site],
    creator: program,
    producer: `${program} with ${browser}`,
    language: frontMatter.locale,
    date: frontMatter.date,
    identity: review.sourceSha256,
    headings: rendered.outline.map(({ title, typeset }) => ({ text: title, typeset })),
    attachments,
    signatureFields,
  };
}
