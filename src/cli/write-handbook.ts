import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { replaceFiles } from '../files/replace-file.ts';
import type { HandbookPart } from '../handbook/handbook.ts';
import { handbookDocument } from '../handbook/site/handbook-document.ts';
import { handbookSite, SITE_MARK } from '../handbook/site/handbook-site.ts';
import { finishPdf } from '../pdf/finish-pdf.ts';
import { openPrinter } from '../print/print-document.ts';
import { sha256 } from '../review/digest-sources.ts';
import { EXIT } from './exit-status.ts';
import { refuseForeignFiles } from './refuse-foreign-files.ts';
import { refuseStrangeGlyphs } from './refuse-strange-glyphs.ts';
import { PACKAGE, SOFTWARE, SOFTWARE_NAME } from './software.ts';
import type { Terminal } from './terminal.ts';
import { readDay } from './today.ts';

const OWN = /^(?:[a-z0-9-]+(?:\.evidence)?\.html|handbook\.(?:css|pdf)|search\.js)$/;

/** Three hundred pages with some thousand formulas take a minute, and several on a machine that is busy. */
const TIME_FOR_A_PASS = 1_800_000;

interface HandbookOptions {
  readonly pdf: boolean;
  /** The day that the PDF bears. */
  readonly date?: string;
  readonly browser?: string;
}

/** Writes the handbook as a site of plain files and as one PDF. */
export async function writeHandbook(
  out: string,
  parts: readonly HandbookPart[],
  options: HandbookOptions,
  terminal: Terminal,
): Promise<number> {
  await refuseForeignFiles(out, { marked: 'index.html', mark: SITE_MARK, owns: (path) => OWN.test(path) });
  terminal.progress('setting the pages of the handbook');
  const script = readFileSync(new URL('dist/site/search-in-page.js', PACKAGE), 'utf8');
  const site = handbookSite(parts, { software: SOFTWARE_NAME, script, pdf: options.pdf });
  const files = [...site].map(([path, text]) => ({
    path: join(out, path),
    bytes: new TextEncoder().encode(text),
  }));
  if (options.pdf) {
    files.push({
      path: join(out, 'handbook.pdf'),
      bytes: (await printHandbook(parts, options, terminal)) as Uint8Array<ArrayBuffer>,
    });
  }
  await replaceFiles(files, { makes: out, tell: terminal.err });
  terminal.out(`wrote ${files.length} files into ${out}`);
  terminal.out(`open ${join(out, 'index.html')}`);
  return EXIT.done;
}

async function printHandbook(
  parts: readonly HandbookPart[],
  { browser, date }: HandbookOptions,
  terminal: Terminal,
): Promise<Uint8Array> {
  const { html, outline, fonts } = handbookDocument(parts, SOFTWARE_NAME);
  terminal.progress('starting the browser');
  const printer = await openPrinter({
    environment: process.env,
    timeoutMilliseconds: TIME_FOR_A_PASS,
    ...(browser ? { path: browser } : {}),
  });
  try {
    for (const notice of printer.notices) terminal.err(notice);
    terminal.progress('printing the handbook');
    const { document } = await printer.print(html);
    const finished = await finishPdf(document, {
      title: `Handbook of ${SOFTWARE_NAME}`,
      author: SOFTWARE.name,
      subject:
        'Calculations, their givens, formulas, checks and evidence; writing, signing and issuing notes',
      keywords: ['handbook', 'surge protection', 'lightning protection', 'earthing'],
      creator: SOFTWARE_NAME,
      producer: `${SOFTWARE_NAME} with ${printer.version}`,
      language: 'en-GB',
      date: readDay(date),
      page: html,
      identity: sha256(html),
      headings: outline.map(({ title }) => ({ text: title, typeset: false })),
    });
    refuseStrangeGlyphs(finished, fonts, 'the handbook');
    return finished.pdf;
  } finally {
    await printer.close();
  }
}
