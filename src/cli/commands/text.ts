import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import { readWholeFile } from '../../files/read-whole-file.ts';
import { LARGEST_FILE } from '../../pdf/open-document.ts';
import type { AttachedFile } from '../../pdf/read-attachments.ts';
import { type PdfContents, readPdf } from '../../pdf/read-pdf.ts';
import { sha256 } from '../../review/digest-sources.ts';
import { isCarriedPage } from '../carried-page.ts';
import { EXIT } from '../exit-status.ts';
import type { Terminal } from '../terminal.ts';

/**
 * Prints a PDF as text, line by line comparable: what it says of itself and the files that it carries. Made for git, which
 * gives up a whole comparison where one file cannot be put into words: what is no PDF, or none that can be used, is said
 * in words too.
 */
export async function textCommand(path: string, terminal: Terminal): Promise<number> {
  const bytes = await readWholeFile(path, LARGEST_FILE);
  terminal.out((await wordPdf(bytes)).join('\n'));
  return EXIT.done;
}

async function wordPdf(bytes: Uint8Array): Promise<string[]> {
  let contents: PdfContents;
  try {
    contents = await readPdf(bytes);
  } catch (failure) {
    if (!(failure instanceof OutsideFailure)) throw failure;
    return [failure.message, wordDigest(bytes)];
  }
  const files = [...contents.attachments].sort((a, b) => rank(a) - rank(b));
  return [
    ...Object.entries(contents.information).map(([name, text]) => `${name}: ${text}`),
    `Pages: ${contents.pageCount}`,
    ...files.flatMap(wordFile),
    ...(files.length === 0 ? ['No file is in it.', wordDigest(bytes)] : []),
  ];
}

/** The note first, then what was computed from it, what was signed, and what it rests on. */
function rank({ name }: AttachedFile): number {
  const place = [/\.md$/, /\.results\.yaml$/, /\.signoff\.yaml$/, /\.yaml$/].findIndex((end) =>
    end.test(name),
  );
  return place < 0 ? 9 : place;
}

/** The page follows from the rest, and is one line as long as a note: its digest says whether it is another. */
function wordFile({ name, bytes }: AttachedFile): string[] {
  const text = isCarriedPage(name) ? undefined : readText(bytes);
  const lines = text === undefined ? [wordDigest(bytes)] : text.replace(/\n$/, '').split('\n');
  return ['', `==== ${name}`, ...lines];
}

/** Undefined for what is no text, such as a picture. */
function readText(bytes: Uint8Array): string | undefined {
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return text.includes('\0') ? undefined : text;
  } catch {
    return undefined;
  }
}

function wordDigest(bytes: Uint8Array): string {
  return `${bytes.length} bytes, SHA-256 ${sha256(bytes)}`;
}
