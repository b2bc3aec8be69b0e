import type { PDFDocument } from '@cantoo/pdf-lib';
import type { Browser, Page } from 'puppeteer-core';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { indexPages, readDestinations } from '../pdf/destinations.ts';
import { openPrinted } from '../pdf/read-printed.ts';
import { openPageDrawer, type PageDrawer } from './draw-pages.ts';
import { fillPages, hasShortParts, settingsOf } from './fill-pages.ts';
import { type BrowserSearch, findBrowser } from './find-browser.ts';
import { columnOf, FIND_OVERFLOW, type Overflow } from './find-overflow.ts';
import { guessPages } from './guess-pages.ts';
import { launchBrowser } from './launch-browser.ts';
import { layInColumns, roomOfPage } from './lay-in-columns.ts';
import { type LoadedPage, loadPage } from './load-page.ts';
import { openStillPage } from './open-still-page.ts';
import {
  agree,
  fillPageNumbers,
  listPageNumberTargets,
  type PageMap,
  showPageNumbers,
} from './page-numbers.ts';

export interface PrinterOptions extends BrowserSearch {
  /** How long the start of the browser, and each pass of a document, may take: five minutes where absent. */
  readonly timeoutMilliseconds?: number;
  /** Called when the browser's program was started; it takes some time until it answers. */
  readonly onStart?: () => void;
  /** Called once where it has not answered for a while: how long it is waited for in all, in seconds. */
  readonly onSlow?: (seconds: number) => void;
}

export interface PrintRequest {
  /** Pages that an earlier run found. Where they still hold, one pass is enough. */
  readonly knownPageMap?: PageMap;
}

export interface PrintedDocument {
  /** As the browser wrote it. */
  readonly pdf: Uint8Array;
  /** The same, opened: `finishPdf` makes of it what is kept. */
  readonly document: PDFDocument;
  /** Where each id that a link leads to begins, sorted by id. */
  readonly pageMap: PageMap;
  readonly pageCount: number;
  /** How often the document was printed: 1 to 3. */
  readonly passes: number;
}

export interface Printer {
  /** The browser and its build, such as "HeadlessChrome/153.0.8010.0". */
  readonly version: string;
  /** Whether the browser runs in its sandbox: not as root, and not where the system denies it. */
  readonly sandboxed: boolean;
  /** What the user should be told about the browser. */
  readonly notices: readonly string[];
  print(html: string, request?: PrintRequest): Promise<PrintedDocument>;
  /** Opens a PDF to draw its pages. @throws {OutsideFailure} `pdf-damaged` */
  openDrawer(pdf: Uint8Array): Promise<PageDrawer>;
  close(): Promise<void>;
}

const FIVE_MINUTES = 300_000;
const MOST_PASSES = 3;

/**
 * Starts a browser that prints any number of documents, also several at once. It must be closed.
 *
 * @throws {OutsideFailure} when there is no browser or it does not start
 */
export async function openPrinter(options: PrinterOptions): Promise<Printer> {
  const timeoutMilliseconds = options.timeoutMilliseconds ?? FIVE_MINUTES;
  const found = await findBrowser(options);
  try {
    const launched = await launchBrowser(found, { ...options, timeoutMilliseconds });
    return {
      version: launched.version,
      sandboxed: launched.sandboxed,
      notices: found.notices,
      print: (html, request = {}) => printDocument(launched.browser, html, request, timeoutMilliseconds),
      openDrawer: (pdf) => openPageDrawer(launched.browser, pdf),
      close: () => launched.close().then(() => found.release()),
    };
  } catch (error) {
    await found.release();
    throw error;
  }
}

/**
 * Prints until the page numbers that the document shows are those on which its parts begin. Without a map from an
 * earlier run they are guessed; where they cannot be, the first pass serves only to find them: it draws nothing and leaves out the tags, which takes half the time.
 * How figures and lines are placed (`lookAhead`) follows from the page and the browser alone, whether page numbers are known or not.
 * The page is loaded once for all passes; only the numbers in it change. Where lines were set closer and it has not saved the page, all is done again without.
 *
 * @throws {OutsideFailure} `print-page-numbers` when they do not settle, `print-overflow` when something is wider than its place, and whatever `loadPage` throws
 * @throws {Error} when the document shows the page of an id to which none of its links leads
 */
async function printDocument(
  browser: Browser,
  html: string,
  request: PrintRequest,
  timeoutMilliseconds: number,
  mayBeCloser = true,
): Promise<PrintedDocument> {
  const targets = listPageNumberTargets(html);
  let shown = targets.length === 0 ? {} : request.knownPageMap;
  const toOpen = { html, targets, known: shown, mayBeCloser };
  const document = await openPage(browser, toOpen, timeoutMilliseconds);
  try {
    if (document.guess) {
      shown = document.guess;
      await document.show(shown);
    }
    for (let pass = 1; pass <= MOST_PASSES; pass += 1) {
      const pdf = await (shown === undefined ? document.measure() : document.print());
      const { pageMap, ...opened } = await readPages(pdf);
      const lost = targets.find((target) => !Object.hasOwn(pageMap, target));
      if (lost !== undefined) throw new Error(`The page of "${lost}" is shown, but no link leads there.`);
      if (shown !== undefined && agree(targets, shown, pageMap)) {
        if (opened.pageCount <= (document.hoped ?? Number.POSITIVE_INFINITY))
          return { pdf, ...opened, pageMap, passes: pass };
        return await printDocument(browser, html, request, timeoutMilliseconds, false);
      }
      shown = pageMap;
      await document.show(shown);
    }
  } finally {
    // Nobody waits for it: what follows is work of this process, and the browser takes the page away meanwhile.
    void document.close();
  }
  throw new OutsideFailure(
    'print-page-numbers',
    `The page numbers in the contents do not settle: they still moved after ${MOST_PASSES} passes.`,
    { hint: 'A heading stands just at the end of a page: add or remove a line before it.' },
  );
}

async function readPages(
  pdf: Uint8Array,
): Promise<Pick<PrintedDocument, 'document' | 'pageMap' | 'pageCount'>> {
  const document = await openPrinted(pdf);
  const pages = indexPages(document);
  return { document, pageMap: Object.fromEntries(readDestinations(document, pages)), pageCount: pages.size };
}

/** A document in a page of its own; what goes wrong in the browser is explained as an `OutsideFailure`. */
interface OpenPage {
  /** Where the parts that were asked for may begin. */
  readonly guess: PageMap | undefined;
  /** How many pages it is to have, where lines were set closer for that. */
  readonly hoped: number | undefined;
  /** The pages as they will be printed, with nothing on them but the places to which links lead. */
  measure(): Promise<Uint8Array>;
  print(): Promise<Uint8Array>;
  show(pageNumbers: PageMap): Promise<void>;
  close(): Promise<void>;
}

/** A page, the ids whose page numbers it shows, and these numbers, as far as they are known. */
interface PageToOpen {
  readonly html: string;
  readonly targets: readonly string[];
  readonly known: PageMap | undefined;
  readonly mayBeCloser: boolean;
}

async function openPage(
  browser: Browser,
  toOpen: PageToOpen,
  timeoutMilliseconds: number,
): Promise<OpenPage> {
  let page: Page | undefined;
  const close = async (): Promise<void> => {
    await page?.close().catch(() => {});
  };
  const attempt = <T>(step: () => Promise<T>): Promise<T> =>
    step().catch((cause: unknown) => {
      throw explain(cause, browser, timeoutMilliseconds);
    });
  try {
    const opened = await attempt(() => openStillPage(browser));
    page = opened;
    const loaded = await attempt(() => loadInColumn(opened, toOpen, timeoutMilliseconds));
    const toPdf = async (final: boolean): Promise<Uint8Array> => {
      const pdf = await opened.pdf({
        // The style sheet alone says what the page is like: size, margins, running heads.
        preferCSSPageSize: true,
        printBackground: true,
        tagged: final,
        outline: final,
        timeout: timeoutMilliseconds,
      });
      loaded.raiseComplaints();
      return pdf;
    };
    return {
      guess: loaded.guess,
      hoped: loaded.hoped,
      measure: () =>
        attempt(async () => {
          // What is hidden keeps its place, and links keep theirs.
          await opened.evaluate("document.documentElement.style.visibility = 'hidden'");
          const pdf = await toPdf(false);
          await opened.evaluate("document.documentElement.removeAttribute('style')");
          return pdf;
        }),
      print: () => attempt(() => toPdf(true)),
      show: (pageNumbers) => attempt(async () => void (await opened.evaluate(showPageNumbers(pageNumbers)))),
      close,
    };
  } catch (failure) {
    await close();
    throw failure;
  }
}

/**
 * Loads a document into a window as wide as its column, laid out for print from the start, and refuses what is wider than its place:
 * the browser would scale the whole document down to it, and says nothing.
 */
async function loadInColumn(
  page: Page,
  toOpen: PageToOpen,
  timeoutMilliseconds: number,
): Promise<LoadedPage & Ahead> {
  const html = fillPageNumbers(toOpen.html, toOpen.known ?? {});
  const width = columnOf(html);
  const session = await page.createCDPSession();
  const layOutFor = (media: '' | 'print'): Promise<void> =>
    session.send('Emulation.setEmulatedMedia', { media });
  if (width !== undefined) {
    // A bar beside the page would take of its width.
    await session.send('Emulation.setScrollbarsHidden', { hidden: true });
    await page.setViewport({ width: Math.round(width), height: 1000 });
    // Loading starts another process of the browser, where what the last session says of the medium holds.
    await layOutFor('print');
  }
  const loaded = await loadPage(page, session, html, timeoutMilliseconds);
  let ahead: Ahead = NOTHING_AHEAD;
  if (width !== undefined) {
    // Once more, at no cost where it holds: what is looked for is to be found in print.
    await layOutFor('print');
    const found = (await page.evaluate(FIND_OVERFLOW)) as readonly Overflow[];
    if (found.length > 0) throw overflow(found);
    ahead = await lookAhead(page, toOpen, width);
  }
  await page.evaluate(EMPTY_ON_SCREEN);
  await layOutFor('');
  return { ...loaded, ...ahead };
}

type Ahead = Pick<OpenPage, 'guess' | 'hoped'>;
const NOTHING_AHEAD: Ahead = { guess: undefined, hoped: undefined };

/**
 * Fills holes before figures and sets closer what would leave a last page nearly empty, and guesses where the parts begin where nobody knows it.
 * What is done to the page must not follow from what is known of it: meanwhile it shows guessed numbers, which take about the room of the true ones.
 */
async function lookAhead(
  page: Page,
  { html, targets, known, mayBeCloser }: PageToOpen,
  width: number,
): Promise<Ahead> {
  const room = roomOfPage(html);
  if (room === undefined) return NOTHING_AHEAD;
  const settings = settingsOf(html);
  const guess = async () =>
    ((await page.evaluate(guessPages(targets, width))) as PageMap | null) ?? undefined;
  const show = (pages: PageMap) => page.evaluate(showPageNumbers(pages));
  if (settings > 0) await show(Object.fromEntries(targets.map((target) => [target, USUAL_PAGE])));
  const isShort = settings > 0 && (await page.evaluate(hasShortParts(room))) === true;
  if (isShort || known === undefined) await page.evaluate(layInColumns(room, width));
  let hoped: number | undefined;
  if (isShort) {
    await show((await guess()) ?? {});
    const script = fillPages(mayBeCloser ? settings : 0, room, width);
    hoped = ((await page.evaluate(script)) as number | null) ?? undefined;
  }
  if (known === undefined) return { guess: await guess(), hoped };
  await show(known);
  return { guess: undefined, hoped };
}

/** Has as many digits as most. */
const USUAL_PAGE = 10;

/**
 * Leaves nothing of the document on a screen. A print goes there and back: between finding the size of the pages and printing them, and
 * afterwards, the browser lays the document out for its window, for nobody.
 */
const EMPTY_ON_SCREEN = `{
  const sheet = new CSSStyleSheet();
  sheet.replaceSync('@media screen { body { display: none !important; } }');
  document.adoptedStyleSheets = [sheet];
}`;

function overflow(found: readonly Overflow[]): OutsideFailure {
  const places = found.map(({ under, text }) => `“${text}” under “${under}”`);
  return new OutsideFailure(
    'print-overflow',
    `What stands here is wider than its place: ${places.join('; ')}.`,
    {
      hint: 'Shorten it, or write it so that a line can end within it: nothing is made smaller or cut off.',
    },
  );
}

function explain(cause: unknown, browser: Browser, timeoutMilliseconds: number): unknown {
  if (cause instanceof OutsideFailure || !(cause instanceof Error)) return cause;
  if (cause.name === 'TimeoutError' || /timed out/i.test(cause.message)) {
    const seconds = timeoutMilliseconds / 1000;
    return new OutsideFailure(
      'print-timeout',
      `The browser did not print the document within ${seconds} s.`,
      {
        cause,
      },
    );
  }
  if (
    !browser.connected ||
    /target closed|session closed|page crashed|connection closed/i.test(cause.message)
  ) {
    return new OutsideFailure('browser-ended', 'The browser ended while it printed the document.', {
      hint: 'It may have run out of memory: a note of 100 pages takes about 700 MB.',
      cause,
    });
  }
  return new OutsideFailure('print-failed', `The browser cannot print the document: ${cause.message}`, {
    cause,
  });
}
