import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { loadFontStyles } from '../page/fonts.ts';
import type { Attachment } from '../pdf/attach-files.ts';
import { comparePageTexts } from '../pdf/compare-page-texts.ts';
import { listSignatures } from '../pdf/list-signatures.ts';
import { readPageTexts } from '../pdf/read-page-texts.ts';
import { type CarriedPage, type PageToPrint, readCarriedPage } from './carried-page.ts';
import { isSameBuild, judgeOtherBytes } from './compare-prints.ts';
import type { Finding } from './finding.ts';
import { type DocumentPage, makePages } from './make-pages.ts';
import { type Printable, type PrintedPage, tryToPrint } from './print-pages.ts';
import { SOFTWARE, SOFTWARE_NAME } from './software.ts';
import type { UnpackedPdf } from './unpack-pdf-source.ts';
import { type PagesToVerify, verifyCarriedPage } from './verify-carried-page.ts';

const ABOUT = 'pages';

export interface PageVerification {
  readonly findings: readonly Finding[];
  /** How many of the first bytes of the file are the print; undefined where that was not found out. */
  readonly printLength?: number;
}

/** A browser may print a page in two ways, rarely, of the same text: before such bytes contradict a document they are printed again. */
const ATTEMPTS = 3;

/**
 * Prints again the page that the PDF carries, and holds that page against the one that is made of the source now. The same bytes
 * prove that the PDF shows the carried page; only the same page proves that it shows the source. Other bytes by the same program
 * and browser contradict the document.
 */
export async function verifyPages(work: PagesToVerify): Promise<PageVerification> {
  const { unpacked } = work;
  const carried = readCarriedPage(unpacked.documentPath, unpacked.files);
  if (carried === undefined)
    return carriesPages(work.madeBy) ? { findings: [PAGE_MISSING] } : verifyWithoutPage(work);
  if (carried.state === 'read') return verifyWithPage(work, carried.page);
  return verifyUnread(work, carried);
}

async function verifyWithPage(work: PagesToVerify, page: PageToPrint): Promise<PageVerification> {
  const { unpacked, madeBy } = work;
  if (page.document.creator !== madeBy) {
    const text = `the page that the PDF carries was made by ${page.document.creator}, as it says, and the PDF by ${madeBy}`;
    return { findings: [{ about: ABOUT, state: 'contradicted', text }] };
  }
  const made = await makePage(work, (page.document.signatureFields?.length ?? 0) > 0);
  const printed = await printUntilSame(toPrintable(unpacked, page), work).catch((failure: unknown) => {
    if (failure instanceof OutsideFailure) return failure;
    // What stands in the file may not fit together, such as headings that the page does not have.
    const reason = failure instanceof Error ? failure.message : String(failure);
    return new OutsideFailure('page-unsound', reason, { cause: failure });
  });
  const carried = await verifyCarriedPage(
    work,
    page,
    made,
    printed instanceof OutsideFailure ? printed : undefined,
  );
  if (printed instanceof OutsideFailure) return { findings: [wordUnprinted(printed), carried] };
  if (isPrefix(printed.pdf, unpacked.bytes)) {
    const text = `the page that the PDF carries, printed again by ${printed.browser}: the same bytes`;
    return {
      findings: [{ about: ABOUT, state: 'proven', text }, carried],
      printLength: printed.pdf.length,
    };
  }
  const same = madeBy === SOFTWARE_NAME;
  const pages = await judgeOtherBytes(work, printed, {
    what: 'the page that the PDF carries',
    madeBy,
    same,
  });
  return { findings: [pages, carried] };
}

/** Whether a program, such as 'surgenote 0.2.0', puts the page into the PDF. */
function carriesPages(madeBy: string): boolean {
  const [, major, minor] = /^\S+ (\d+)\.(\d+)\./.exec(madeBy) ?? [];
  return major === undefined || Number(major) > 0 || Number(minor) >= 3;
}

const PAGE_MISSING: Finding = {
  about: ABOUT,
  state: 'contradicted',
  text: 'the PDF carries no page, which every version since 0.3.0 puts into it',
};

/** Versions before 0.3 carry no page: the one that this version makes of the source is printed in its place. */
async function verifyWithoutPage(work: PagesToVerify): Promise<PageVerification> {
  const { unpacked, madeBy } = work;
  const { signatures, emptyFields } = await listSignatures(unpacked.bytes);
  let last: PrintedPage | undefined;
  // Whether the title block was printed with signature fields the source does not say: signing makes fields too.
  for (const signatureFields of signatures.length + emptyFields.length > 0 ? [true, false] : [false]) {
    const page = await makePage(work, signatureFields);
    if (!page) return { findings: [NO_PAGE] };
    const printed = await printUntilSame(page, work);
    if (printed instanceof OutsideFailure) return { findings: [wordUnprinted(printed, 'not proven')] };
    if (isPrefix(printed.pdf, unpacked.bytes)) {
      const text = `printed again by ${printed.browser}: the same bytes`;
      return { findings: [{ about: ABOUT, state: 'proven', text }], printLength: printed.pdf.length };
    }
    last ??= printed;
  }
  const same = madeBy === SOFTWARE_NAME;
  return { findings: [await judgeOtherBytes(work, last!, { what: 'the source', madeBy, same })] };
}

function verifyUnread(
  { madeBy }: PagesToVerify,
  { state, reason }: Exclude<CarriedPage, { state: 'read' }>,
): PageVerification {
  // A later version may do what this one does not know; what claims to be of this one must be readable by it.
  const contradicted = state === 'unsound' || madeBy === SOFTWARE_NAME;
  const text = `the page that the PDF carries cannot be printed: ${reason}`;
  return { findings: [{ about: ABOUT, state: contradicted ? 'contradicted' : 'not proven', text }] };
}

const NO_PAGE: Finding = {
  about: ABOUT,
  state: 'not proven',
  text: `${SOFTWARE_NAME} can make no page of the source`,
};

/** @param onFault what follows where the fault lies in the page: one of ours asks for nothing, and has no fonts but ours */
function wordUnprinted(failure: OutsideFailure, onFault: Finding['state'] = 'contradicted'): Finding {
  const atFault = ['print-blocked', 'foreign-font', 'missing-character', 'page-unsound'];
  const text = `not compared, for they could not be printed again: ${failure.message}`;
  return { about: ABOUT, state: atFault.includes(failure.code) ? onFault : 'not proven', text };
}

/** The page as this version makes it of the source, in the name of the version that made the PDF; undefined where none can be made. */
async function makePage(
  { loaded, results, madeBy, terminal }: PagesToVerify,
  signatureFields: boolean,
): Promise<DocumentPage | undefined> {
  const [name, version] = madeBy.split(' ');
  const pages = await makePages([loaded], results, terminal, {
    software: name && version ? { name, version } : SOFTWARE,
    ...(signatureFields ? { signatureFields } : {}),
  });
  return pages?.submittals[0] ?? pages?.notes[0];
}

/** A carried page with all files of its PDF, as it was printed. */
function toPrintable(
  { folder, documentPath, files }: UnpackedPdf,
  { html, document }: PageToPrint,
): Printable {
  return {
    folder,
    path: documentPath,
    rendered: { html, fonts: loadFontStyles().names },
    document,
    attachments: files.map(
      ({ name, bytes, mimeType, description, relationship }): Attachment => ({
        name,
        bytes,
        mimeType: mimeType ?? '',
        description: description ?? '',
        relationship: relationship === 'Source' ? 'Source' : 'Data',
      }),
    ),
  };
}

/** Prints; by the same build more than once where the bytes differ. */
async function printUntilSame<Page extends Printable>(
  page: Page,
  { unpacked: { bytes, contents }, browser, terminal }: PagesToVerify,
): Promise<PrintedPage<Page> | OutsideFailure> {
  const options = {
    knownPageMap: Object.fromEntries(contents.destinations),
    ...(browser ? { browser } : {}),
  };
  for (let attempt = 1; ; attempt += 1) {
    const printed = await tryToPrint([page], options, terminal);
    if (printed instanceof OutsideFailure) return printed;
    const { pdf, browser: build } = printed[0]!;
    const mayAgree =
      !isPrefix(pdf, bytes) && isSameBuild(contents, build) && (await haveSameTexts(bytes, pdf));
    if (!mayAgree || attempt === ATTEMPTS) return printed[0]!;
  }
}

async function haveSameTexts(bytes: Uint8Array, print: Uint8Array): Promise<boolean> {
  const [there, here] = [await readPageTexts(bytes), await readPageTexts(print)];
  return comparePageTexts(there, here).kind === 'same pages';
}

function isPrefix(print: Uint8Array, bytes: Uint8Array): boolean {
  return Buffer.from(print).equals(bytes.subarray(0, print.length));
}
