import { compareDrawings } from '../pdf/compare-drawings.ts';
import { comparePageTexts } from '../pdf/compare-page-texts.ts';
import { listActiveParts } from '../pdf/list-active-parts.ts';
import { readPageTexts } from '../pdf/read-page-texts.ts';
import type { PdfContents } from '../pdf/read-pdf.ts';
import { openPrinter } from '../print/print-document.ts';
import { wordDiff } from '../review/diff-lines.ts';
import type { Finding } from './finding.ts';
import { SOFTWARE_NAME } from './software.ts';
import type { PagesToVerify } from './verify-carried-page.ts';

const ABOUT = 'pages';

/** What was printed again. */
export interface PrintedAgain {
  /** 'the page that the PDF carries', or 'the source', of which this version made the page. */
  readonly what: 'the page that the PDF carries' | 'the source';
  readonly madeBy: string;
  /** Whether this version made the PDF, as it says. */
  readonly same: boolean;
}

/** Whether a browser is the one that printed the PDF, as the PDF says. */
export function isSameBuild({ information }: PdfContents, browser: string): boolean {
  return information.Producer === `${information.Creator} with ${browser}`;
}

/**
 * Judges a PDF whose bytes are not those of the print. Where another browser or version explains that, texts and looks of the pages
 * are compared instead: that contradicts, or leaves unproven, and proves nothing.
 */
export async function judgeOtherBytes(
  { unpacked: { bytes, contents }, browser }: Pick<PagesToVerify, 'unpacked' | 'browser'>,
  printed: { readonly pdf: Uint8Array; readonly browser: string },
  { what, madeBy, same }: PrintedAgain,
): Promise<Finding> {
  const sameBuild = isSameBuild(contents, printed.browser);
  const [there, here] = [await readPageTexts(bytes), await readPageTexts(printed.pdf)];
  const texts = comparePageTexts(there, here);
  const detail = texts.differing
    .slice(0, 3)
    .map((page) => `page ${page}:\n${wordDiff(there[page - 1] ?? '', here[page - 1] ?? '')}`)
    .join('\n');
  const finding = (state: Finding['state'], reason: string, compared: string): Finding => ({
    about: ABOUT,
    state,
    text: `${reason}; ${compared}`,
    ...(detail === '' ? {} : { detail }),
  });
  const wordedTexts = wordTexts(texts, what);
  if (same && sameBuild)
    return finding(
      'contradicted',
      `${what}, printed again by the same program and browser, gives other bytes`,
      wordedTexts,
    );
  const active = await listActiveParts(bytes);
  if (active.length > 0)
    return finding(
      'contradicted',
      `the file holds what no document of ours has: ${active.join(', ')}`,
      wordedTexts,
    );
  const reason = wordReason(printed.browser, contents, { what, madeBy, same }, sameBuild);
  // One page has one text, whatever prints it; of one source, two versions may make two.
  const mayDiffer = what === 'the source' && !same;
  if (texts.kind === 'other' && !mayDiffer) return finding('contradicted', reason, wordedTexts);
  const looks = texts.kind === 'same pages' ? await compareLooks(bytes, printed.pdf, browser) : undefined;
  return finding('not proven', reason, looks === undefined ? wordedTexts : `${wordedTexts}; ${looks}`);
}

function wordReason(
  browser: string,
  { information }: PdfContents,
  { what, madeBy, same }: PrintedAgain,
  sameBuild: boolean,
): string {
  const program = `${madeBy} made them, and ${SOFTWARE_NAME} ${what === 'the source' ? 'may lay them out otherwise' : 'may write the file otherwise'}`;
  const build = `${what} was printed again by ${browser} instead of the browser of then (${information.Producer ?? 'not named'})`;
  return [...(same ? [] : [program]), ...(sameBuild ? [] : [build])].join('; ');
}

function wordTexts(
  { kind, differing }: ReturnType<typeof comparePageTexts>,
  what: PrintedAgain['what'],
): string {
  if (kind === 'same pages') return 'the text of every page is the same';
  if (kind === 'same text') return 'the text of the whole is the same, and pages break elsewhere';
  const pages = `${differing.length === 1 ? 'page' : 'pages'} ${differing.slice(0, 20).join(', ')}${differing.length > 20 ? ' and others' : ''}`;
  return `the text of ${pages} is not that of ${what}`;
}

/** Each takes a tenth of a second. */
const MOST_DRAWN = 400;

/** Whether the pages look alike, and by which tool that was seen. */
async function compareLooks(
  bytes: Uint8Array,
  print: Uint8Array,
  browser: string | undefined,
): Promise<string> {
  const printer = await openPrinter({ environment: process.env, ...(browser ? { path: browser } : {}) });
  try {
    const [there, here] = [await printer.openDrawer(bytes), await printer.openDrawer(print)];
    const count = Math.min(there.pageCount, MOST_DRAWN);
    const differing: string[] = [];
    for (let page = 1; page <= count; page += 1) {
      const at = compareDrawings(await there.draw(page), await here.draw(page));
      if (at)
        differing.push(
          `page ${page} (${at.width} mm by ${at.height} mm, ${at.left} mm from the left, ${at.top} mm from the top)`,
        );
    }
    const which = there.pageCount > count ? `the first ${count} pages` : 'all pages';
    return differing.length === 0
      ? `${which} look alike when ${there.tool} draws them, which small differences escape`
      : `drawn by ${there.tool}, they do not look alike on ${differing.slice(0, 10).join(', ')}${differing.length > 10 ? ' and others' : ''}`;
  } finally {
    await printer.close();
  }
}
