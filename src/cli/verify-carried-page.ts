import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { readPageTexts } from '../pdf/read-page-texts.ts';
import { diffLines, wordDiff } from '../review/diff-lines.ts';
import { carriedPagePath, type PageToPrint } from './carried-page.ts';
import type { Finding } from './finding.ts';
import type { LoadedProject } from './load-and-evaluate.ts';
import type { DocumentPage } from './make-pages.ts';
import { tryToPrint } from './print-pages.ts';
import { SOFTWARE_NAME } from './software.ts';
import type { Terminal } from './terminal.ts';
import type { UnpackedPdf } from './unpack-pdf-source.ts';

const ABOUT = 'page of the source';

export interface PagesToVerify {
  readonly unpacked: UnpackedPdf;
  readonly loaded: LoadedProject;
  /** The texts of the results of the notes as they are computed now. */
  readonly results: ReadonlyMap<EvaluatedNote, string>;
  /** The program that made the PDF, as it says. */
  readonly madeBy: string;
  readonly browser: string | undefined;
  readonly terminal: Terminal;
}

/**
 * Whether the page that a PDF carries is the one that the source gives. Whoever makes a PDF may put any page into it: only the same page,
 * made anew, proves that it shows what the source says. Another version may make another page; then the words and numbers that the PDF
 * shows are held against those of the page that this version makes.
 *
 * @param made the page that this version makes of the source; undefined where none can be made
 * @param unprinted why the carried page could not be printed; then nothing else is printed either
 */
export async function verifyCarriedPage(
  work: PagesToVerify,
  carried: PageToPrint,
  made: DocumentPage | undefined,
  unprinted: OutsideFailure | undefined,
): Promise<Finding> {
  const { unpacked, madeBy } = work;
  const same = madeBy === SOFTWARE_NAME;
  const finding = (state: Finding['state'], text: string, detail = ''): Finding => ({
    about: ABOUT,
    state,
    text,
    ...(detail === '' ? {} : { detail }),
  });
  const otherwise = same ? 'contradicted' : 'not proven';
  if (!made) return finding(otherwise, `${SOFTWARE_NAME} can make no page of the source`);
  const files = listFileDifferences(unpacked, made);
  if (files.length > 0)
    return finding(
      otherwise,
      `the PDF carries other files than ${SOFTWARE_NAME} puts into it: ${files.join(', ')}`,
    );
  if (carried.since !== undefined)
    return finding(
      'not proven',
      `this is a review copy with change bars against ${carried.since}, as it says; what it shows of that state does not follow from the source in the PDF, and no issue has such bars`,
    );
  const isSame =
    carried.html === made.rendered.html && JSON.stringify(carried.document) === JSON.stringify(made.document);
  if (isSame)
    return finding('proven', `the page that the PDF carries is what ${SOFTWARE_NAME} makes of the source`);
  const shown = unprinted ?? (await compareShown(work, made));
  if (shown instanceof OutsideFailure)
    return finding(
      otherwise,
      `the page that the PDF carries is not what ${SOFTWARE_NAME} makes of the source; what they show was not compared, for ${unprinted ? 'the one' : 'the other'} cannot be printed`,
    );
  const reason = same
    ? `the page that the PDF carries is not what ${SOFTWARE_NAME} makes of the source`
    : `${madeBy} made the page that the PDF carries, as it says, and ${SOFTWARE_NAME} makes another of the source`;
  return finding(otherwise, `${reason}; ${shown.text}`, shown.detail);
}

/** Names of carried files that this version would not put in, would put in with another content, or that are missing. */
function listFileDifferences({ files, documentPath }: UnpackedPdf, { attachments }: DocumentPage): string[] {
  const page = carriedPagePath(documentPath);
  const made = new Map(attachments.map(({ name, bytes }) => [name, bytes]));
  const there = new Map(files.map(({ name, bytes }) => [name, bytes]));
  return [
    ...[...there].flatMap(([name, bytes]) => {
      const own = made.get(name);
      if (own === undefined) return [`${name} is not of the note`];
      return name === page || Buffer.from(own).equals(bytes) ? [] : [`${name} has another content`];
    }),
    ...[...made.keys()].filter((name) => !there.has(name)).map((name) => `${name} is missing`),
  ].sort();
}

/** What the pages of the PDF say, against a print of the page that this version makes: numbers first, for they are what is computed. */
async function compareShown(
  { unpacked, browser, terminal }: PagesToVerify,
  made: DocumentPage,
): Promise<{ readonly text: string; readonly detail: string } | OutsideFailure> {
  const printed = await tryToPrint([made], browser ? { browser } : {}, terminal);
  if (printed instanceof OutsideFailure) return printed;
  const [there, here] = [await readPageTexts(unpacked.bytes), await readPageTexts(printed[0]!.pdf)].map(
    (pages) => pages.join('\n'),
  ) as [string, string];
  const parts = [
    ...listDifferences('numbers', listNumbers(there), listNumbers(here)),
    ...listDifferences('verdicts', listVerdicts(there), listVerdicts(here)),
  ];
  const text =
    parts.length === 0
      ? 'the PDF shows the same numbers and verdicts in the same order'
      : `compared with it, the PDF ${parts.join(', and ')}`;
  return { text, detail: shorten(wordDiff(there, here)) };
}

const MOST_LINES = 200;

function shorten(diff: string): string {
  const lines = diff.split('\n');
  return lines.length <= MOST_LINES
    ? diff
    : [...lines.slice(0, MOST_LINES), `... and ${lines.length - MOST_LINES} lines more`].join('\n');
}

const MOST_NAMED = 12;

function listDifferences(what: string, there: readonly string[], here: readonly string[]): string[] {
  const changes = diffLines(here, there);
  const linesOf = (kind: 'removed' | 'added') =>
    changes.filter((change) => change.kind === kind).map(({ line }) => line);
  const [removed, added] = [linesOf('removed'), linesOf('added')];
  const [lacks, adds] = [without(removed, added), without(added, removed)];
  // Where a text flows over its pages otherwise, what stands beside each other changes places.
  const moved = without(removed, lacks);
  return [
    ...(lacks.length === 0 ? [] : [`lacks these ${what}: ${nameSome(lacks)}`]),
    ...(adds.length === 0 ? [] : [`has these ${what} more: ${nameSome(adds)}`]),
    ...(moved.length === 0 ? [] : [`has these ${what} in another order: ${nameSome(moved)}`]),
  ];
}

function nameSome(list: readonly string[]): string {
  return `${list.slice(0, MOST_NAMED).join(', ')}${list.length > MOST_NAMED ? ` and ${list.length - MOST_NAMED} more` : ''}`;
}

/** A list less the entries of another, each as often as it stands there. */
function without(list: readonly string[], taken: readonly string[]): string[] {
  const left = new Map<string, number>();
  for (const one of taken) left.set(one, (left.get(one) ?? 0) + 1);
  return list.filter((one) => {
    const count = left.get(one) ?? 0;
    left.set(one, count - 1);
    return count <= 0;
  });
}

function listNumbers(text: string): string[] {
  return text.match(/\d+(?:[.\u202F\u2009\u00A0]\d+)*/g) ?? [];
}

function listVerdicts(text: string): string[] {
  return (
    text
      .match(/does\s+not\s+comply|complies|cannot\s+be\s+judged|not\s+met|\bmet\b/g)
      ?.map((one) => one.replaceAll(/\s+/g, ' ')) ?? []
  );
}
