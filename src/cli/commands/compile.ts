import { join } from 'node:path';
import { Collector } from '../../diagnostics/collector.ts';
import { hasErrors } from '../../diagnostics/diagnostic.ts';
import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import { startOf } from '../../diagnostics/place.ts';
import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import { type NewFile, replaceFiles } from '../../files/replace-file.ts';
import { fillPageNumbers } from '../../print/page-numbers.ts';
import { printRecordPath } from '../../print/print-record.ts';
import { findFormalGaps } from '../../review/sign-off/formal-gaps.ts';
import { findSubmittalGaps } from '../../review/sign-off/refuse-submittal.ts';
import { resultsPath } from '../../review/write-results.ts';
import { EXIT } from '../exit-status.ts';
import { cautionChangedSources } from '../find-changed-sources.ts';
import { type LoadedProject, loadAndEvaluate } from '../load-and-evaluate.ts';
import { type DocumentPage, makePages } from '../make-pages.ts';
import {
  type PrintedPage,
  printPages,
  type StartedPrinter,
  startPrinter,
  tryToPrint,
} from '../print-pages.ts';
import { recordResults, type TableRecording } from '../record-results.ts';
import { findChanges, refuseSubmittals, stemOfReviewCopy } from '../review-copies.ts';
import type { Terminal } from '../terminal.ts';
import { allComply } from './evaluate.ts';

export interface CompileOptions {
  readonly html?: boolean;
  readonly pdf: boolean;
  readonly out?: string;
  readonly locked?: boolean;
  readonly browser?: string;
  readonly require?: 'complies';
  /** A revision that was issued, or one of git; true for the last issue. Makes review copies, and nothing else. */
  readonly since?: string | true;
}

/** Compiles notes and submittals: every page is made and printed before the first file is replaced. */
export async function compileCommand(
  paths: readonly string[],
  options: CompileOptions,
  terminal: Terminal,
): Promise<number> {
  if (!options.pdf && !options.html) {
    throw new OutsideFailure('usage', 'nothing to write: --no-pdf without --html');
  }
  terminal.progress('evaluating');
  const projects = await loadAndEvaluate(paths, {
    progress: (done, pieces) => terminal.progress(`simulated ${done} of ${pieces} strokes`),
    tell: terminal.err,
  });
  for (const project of projects) terminal.diagnostics(project.diagnostics, project);
  if (projects.some((project) => hasErrors(project.diagnostics))) return EXIT.sourceWrong;
  for (const project of projects) cautionFormalGaps(project, terminal);

  // The browser takes a while to start: meanwhile the pages are made.
  const printer = options.pdf ? await startPrinter(options.browser, terminal) : undefined;
  try {
    return await compileProjects(projects, { ...options, ...(printer ? { printer } : {}) }, terminal);
  } finally {
    await printer?.close();
  }
}

interface WritingOptions extends CompileOptions {
  readonly printer?: StartedPrinter;
}

async function compileProjects(
  projects: readonly LoadedProject[],
  options: WritingOptions,
  terminal: Terminal,
): Promise<number> {
  const recordings = await recordResults(projects, options.locked === true, terminal);
  if (!recordings) return EXIT.sourceWrong;
  const results = new Map([...recordings].map(([note, { fresh }]) => [note, fresh]));
  if (options.since !== undefined) return compileReviewCopies(projects, results, options, terminal);
  const pages = await makePages(projects, results, terminal);
  if (!pages) return EXIT.sourceWrong;
  const documents = [...pages.notes, ...pages.submittals];
  const stems = new Map(documents.map((page) => [page, stemOf(page, options.out)]));
  const recorded = projects.flatMap(({ folder, notes }) =>
    notes.map((note) => ({
      ...recordings.get(note)!,
      stem: stemOf({ folder, path: note.source.path }, options.out),
      path: note.source.path,
    })),
  );
  refuseCollisions([...stems.values()]);
  refuseCollisions(recorded.map(({ stem }) => stem));
  const printing = options.pdf ? await print(documents, options, terminal) : [];
  const failure = printing instanceof OutsideFailure ? printing : undefined;
  const printed = printing instanceof OutsideFailure ? [] : printing;
  await cautionChangedSources(projects, terminal);
  // With --out, the records that were read are others than those that are written.
  const beside = (file: NewFile, was: Uint8Array | null): NewFile =>
    options.out === undefined ? { ...file, was } : file;
  const files: NewFile[] = [
    ...printed.map(({ page, pdf }) => ({ path: `${stems.get(page)}.pdf`, bytes: pdf })),
    ...(options.locked
      ? []
      : printed.map((print) => beside(recordFile(print, stems.get(print.page)!), print.was))),
    ...(options.html ? documents.map((page) => htmlFile(page, stems.get(page)!, printed)) : []),
    ...(options.locked || failure
      ? []
      : recorded.flatMap(({ stem, path, fresh, was, tables }) => [
          beside(textFile(resultsPath(`${stem}.md`), fresh), was),
          ...tables.map((table) => beside(tableFile(path, table, stem), table.was)),
        ])),
  ];
  await replaceFiles(files, { makes: options.out, tell: terminal.err });
  for (const { path } of files) terminal.out(`wrote ${path}`);
  if (failure) throw failure;
  const notes = projects.flatMap((project) => project.notes);
  return options.require === 'complies' && !allComply(notes) ? EXIT.sourceWrong : EXIT.done;
}

/**
 * Review copies, with bars beside what changed since an earlier state. They go to files of their own, and nothing else is written: neither results nor
 * the record of a print.
 */
async function compileReviewCopies(
  projects: readonly LoadedProject[],
  results: ReadonlyMap<EvaluatedNote, string>,
  options: WritingOptions,
  terminal: Terminal,
): Promise<number> {
  const since = await findChanges(projects, options.since === true ? undefined : options.since);
  const alone = projects.map((project) => ({ ...project, submittals: [] }));
  const pages = await makePages(alone, results, terminal, { since });
  if (!pages) return EXIT.sourceWrong;
  refuseSubmittals(projects, pages.notes);
  const stems = new Map<DocumentPage, string>(
    pages.notes.map((page) => [page, stemOfReviewCopy(stemOf(page, options.out), since.get(page.note)!)]),
  );
  refuseCollisions([...stems.values()]);
  const printing = options.pdf ? await print(pages.notes, options, terminal) : [];
  const printed = printing instanceof OutsideFailure ? [] : printing;
  await cautionChangedSources(projects, terminal);
  const files: NewFile[] = [
    ...printed.map(({ page, pdf }) => ({ path: `${stems.get(page)}.pdf`, bytes: pdf })),
    ...(options.html ? pages.notes.map((page) => htmlFile(page, stems.get(page)!, printed)) : []),
  ];
  await replaceFiles(files, { makes: options.out, tell: terminal.err });
  for (const { path } of files) terminal.out(`wrote ${path}`);
  if (printing instanceof OutsideFailure) throw printing;
  return EXIT.done;
}

/** A working document may lack what a formal one needs; `issue` refuses it. */
function cautionFormalGaps(loaded: LoadedProject, terminal: Terminal): void {
  const { project, notes, submittals } = loaded;
  const collector = new Collector(loaded);
  for (const note of notes) {
    for (const { what, hint } of findFormalGaps(note, project!)) {
      collector.caution('formal-gap', startOf(note.source.path), { what, hint });
    }
  }
  for (const submittal of submittals) {
    for (const { what, hint, place } of findSubmittalGaps(submittal)) {
      collector.caution('formal-gap', place ?? startOf(submittal.source.path), { what, hint });
    }
  }
  terminal.diagnostics(collector.list(), collector);
}

/** Where the HTML is to be written all the same, a missing browser waits until it is. */
function print(
  pages: readonly DocumentPage[],
  options: WritingOptions,
  terminal: Terminal,
): Promise<readonly PrintedPage[] | OutsideFailure> {
  return (options.html ? tryToPrint : printPages)(pages, { ...options, remembers: true }, terminal);
}

/** Where the files of a note or submittal go, without the ending. */
function stemOf({ folder, path }: Pick<DocumentPage, 'folder' | 'path'>, out: string | undefined): string {
  const name = path.replace(/\.(?:md|yaml)$/, '');
  return out === undefined ? join(folder, name) : join(out, name.split('/').at(-1)!);
}

/** With --out, documents of several projects may bear one name: none may overwrite the other. */
function refuseCollisions(stems: readonly string[]): void {
  const twice = stems.find((stem, i) => stems.indexOf(stem) !== i);
  if (twice === undefined) return;
  throw new OutsideFailure('usage', `two documents, or their results, would be written to ${twice}`, {
    hint: 'compile them into folders of their own',
  });
}

function htmlFile(page: DocumentPage, stem: string, printed: readonly PrintedPage[]): NewFile {
  const pageMap = printed.find((one) => one.page === page)?.pageMap;
  const html = pageMap ? fillPageNumbers(page.rendered.html, pageMap) : page.rendered.html;
  return textFile(`${stem}.html`, html);
}

/** The results of a schedule, beside the recorded results. */
function tableFile(note: string, { path, fresh }: TableRecording, stem: string): NewFile {
  return textFile(`${stem}${path.slice(note.replace(/\.md$/, '').length)}`, fresh);
}

function recordFile({ record }: PrintedPage, stem: string): NewFile {
  return textFile(printRecordPath(`${stem}.md`), record);
}

function textFile(path: string, text: string): NewFile {
  return { path, bytes: new TextEncoder().encode(text) };
}
