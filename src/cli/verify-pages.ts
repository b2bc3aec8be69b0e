import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { Software } from '../page/cover-view.ts';
import { accountForBytes } from '../pdf/account-for-bytes.ts';
import { listSignatures } from '../pdf/list-signatures.ts';
import { readPageTexts } from '../pdf/read-page-texts.ts';
import { wordDiff } from '../review/diff-lines.ts';
import type { Finding } from './finding.ts';
import type { LoadedProject } from './load-and-evaluate.ts';
import { makePages, type NotePage } from './make-pages.ts';
import { type PrintedPage, tryToPrint } from './print-pages.ts';
import { SOFTWARE, SOFTWARE_NAME } from './software.ts';
import type { Terminal } from './terminal.ts';
import type { UnpackedPdf } from './unpack-pdf-source.ts';

const ABOUT = 'pages';

export interface PageVerification {
  readonly finding: Finding;
  /** How many of the first bytes of the file are the print; undefined where that was not found out. */
  readonly printLength?: number;
}

/** A browser may print a page in two ways, rarely: before bytes contradict a document they are printed again. */
const ATTEMPTS = 3;

/**
 * Prints the note again from the source in its PDF. The same bytes prove its pages. Other bytes by the same program and browser
 * contradict them; by another build or version, only the text of the pages can be compared, which proves nothing of what else
 * a page shows.
 */
export async function verifyPages(
  unpacked: UnpackedPdf,
  loaded: LoadedProject,
  results: string,
  madeBy: string,
  browser: string | undefined,
  terminal: Terminal,
): Promise<PageVerification> {
  const { bytes } = unpacked;
  const software = readSoftware(madeBy);
  const { signatures, emptyFields } = await listSignatures(bytes);
  let last: PrintedPage | undefined;
  // Whether the cover was printed with signature fields the source does not say: signing makes fields too.
  for (const signatureFields of signatures.length + emptyFields.length > 0 ? [true, false] : [false]) {
    const pages = await makePages([loaded], new Map([[loaded.notes[0]!, results]]), terminal, {
      software,
      ...(signatureFields ? { signatureFields } : {}),
    });
    if (!pages) {
      return { finding: { about: ABOUT, state: 'contradicted', text: 'no page can be made of the source' } };
    }
    const printed = await printUntilSame(unpacked, pages, software, browser, terminal);
    if (printed instanceof OutsideFailure) {
      const text = `not compared, for they could not be printed again: ${printed.message}`;
      return { finding: { about: ABOUT, state: 'not proven', text } };
    }
    if (isPrefix(printed.pdf, bytes)) {
      const text = `printed again by ${printed.browser}: the same bytes`;
      return { finding: { about: ABOUT, state: 'proven', text }, printLength: printed.pdf.length };
    }
    last ??= printed;
  }
  return { finding: await judgeOtherBytes(unpacked, last!, madeBy) };
}

/** Prints; by the same build more than once where the bytes differ. */
async function printUntilSame(
  { bytes, contents }: UnpackedPdf,
  pages: readonly NotePage[],
  software: Software,
  browser: string | undefined,
  terminal: Terminal,
): Promise<PrintedPage | OutsideFailure> {
  const options = {
    software,
    knownPageMap: Object.fromEntries(contents.destinations),
    ...(browser ? { browser } : {}),
  };
  for (let attempt = 1; ; attempt += 1) {
    const printed = await tryToPrint(pages, options, terminal);
    if (printed instanceof OutsideFailure) return printed;
    const [page] = printed;
    const again = !isPrefix(page!.pdf, bytes) && isSameBuild(contents.information.Producer, page!);
    if (!again || attempt === ATTEMPTS) return page!;
  }
}

function isPrefix(print: Uint8Array, bytes: Uint8Array): boolean {
  return Buffer.from(print).equals(bytes.subarray(0, print.length));
}

function isSameBuild(producer: string | undefined, { browser }: PrintedPage): boolean {
  return producer === `${SOFTWARE_NAME} with ${browser}`;
}

function readSoftware(madeBy: string): Software {
  const [name, version] = madeBy.split(' ');
  return name && version ? { name, version } : SOFTWARE;
}

async function judgeOtherBytes(
  { bytes, contents }: UnpackedPdf,
  printed: PrintedPage,
  madeBy: string,
): Promise<Finding> {
  const [there, here] = [await readPageTexts(bytes), await readPageTexts(printed.pdf)];
  const differing = Array.from({ length: Math.max(there.length, here.length) }, (_, i) => i).filter(
    (i) => there[i] !== here[i],
  );
  const numbers = differing.map((i) => i + 1).join(', ');
  const which =
    differing.length === 0
      ? 'the text of every page is the same'
      : `the text of ${differing.length === 1 ? 'page' : 'pages'} ${numbers} is not that of the source`;
  const detail = differing
    .slice(0, 3)
    .map((i) => `page ${i + 1}:\n${wordDiff(there[i] ?? '', here[i] ?? '')}`)
    .join('\n');
  const shown = detail === '' ? {} : { detail };
  const { Producer: producer } = contents.information;
  if (isSameBuild(producer, printed)) {
    const text = `printed again by the same program and browser, the bytes differ; ${which}`;
    return { about: ABOUT, state: 'contradicted', text, ...shown };
  }
  if (madeBy !== SOFTWARE_NAME) {
    const text = `${madeBy} made them, ${SOFTWARE_NAME} may lay them out otherwise; ${which}`;
    return { about: ABOUT, state: 'not proven', text, ...shown };
  }
  const text = `printed again by ${printed.browser} instead of the browser of then (${producer ?? 'not named'}); ${which}`;
  return differing.length === 0
    ? {
        about: ABOUT,
        state: 'not proven',
        text: `${text}, while drawings, pictures and whatever lies over the text were not compared`,
      }
    : { about: ABOUT, state: 'contradicted', text, ...shown };
}

/** Whether every byte of the file is accounted for: its print, signatures, nothing else. */
export async function verifyFile(bytes: Uint8Array, printLength: number | undefined): Promise<Finding> {
  const about = 'file';
  if (printLength === undefined) {
    return { about, state: 'not proven', text: 'which of its bytes are the print is not known' };
  }
  const { kind, what } = await accountForBytes(bytes, printLength);
  if (kind === 'none') return { about, state: 'proven', text: 'every byte belongs to the print' };
  if (kind === 'signatures') {
    const text =
      'every byte belongs to the print, or to signatures behind it, their fields and the data for verifying them';
    return { about, state: 'proven', text };
  }
  return { about, state: 'contradicted', text: `changed after it was printed: ${what.join(', ')}` };
}
