import { join } from 'node:path';
import { Collector } from '../../diagnostics/collector.ts';
import { hasErrors } from '../../diagnostics/diagnostic.ts';
import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import { replaceFiles } from '../../files/replace-file.ts';
import { checkCharacters } from '../../page/check-characters.ts';
import { type RenderedNote, renderNote } from '../../page/render-note.ts';
import type { Attachment } from '../../pdf/attach-files.ts';
import { finishPdf } from '../../pdf/finish-pdf.ts';
import { fillPageNumbers } from '../../print/page-numbers.ts';
import { openPrinter, type Printer } from '../../print/print-document.ts';
import { digestSources } from '../../review/digest-sources.ts';
import { resultsPath } from '../../review/write-results.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import { attachSources } from '../attach-sources.ts';
import { EXIT } from '../exit-status.ts';
import { type LoadedProject, loadAndEvaluate } from '../load-and-evaluate.ts';
import { recordResults } from '../record-results.ts';
import { refuseStrangeGlyphs } from '../refuse-strange-glyphs.ts';
import { SOFTWARE } from '../software.ts';
import type { Terminal } from '../terminal.ts';
import { allComply } from './evaluate.ts';

export interface CompileOptions {
  readonly html?: boolean;
  readonly pdf: boolean;
  readonly out?: string;
  readonly locked?: boolean;
  readonly browser?: string;
  readonly require?: 'complies';
}

interface Page {
  readonly project: ProjectSource;
  readonly note: EvaluatedNote;
  readonly rendered: RenderedNote;
  readonly digest: string;
  /** The text of the recorded results. */
  readonly results: string;
  /** Where the files of this note go, without the ending. */
  readonly stem: string;
}

interface OutputFile {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** Compiles notes: every page is made and printed before the first file is replaced. */
export async function compileCommand(
  paths: readonly string[],
  options: CompileOptions,
  terminal: Terminal,
): Promise<number> {
  if (!options.pdf && !options.html) {
    throw new OutsideFailure('usage', 'nothing to write: --no-pdf without --html');
  }
  const projects = await loadAndEvaluate(paths, {
    progress: (done, pieces) => terminal.progress(`simulated ${done} of ${pieces} strokes`),
  });
  for (const project of projects) terminal.diagnostics(project.diagnostics, project.textOf);
  if (projects.some((project) => hasErrors(project.diagnostics))) return EXIT.sourceWrong;

  const results = await recordResults(projects, options.locked === true, terminal);
  if (!results) return EXIT.sourceWrong;
  const pages = projects.flatMap((project) =>
    project.notes.map((note) => makePage(project, note, results.get(note)!, options)),
  );
  if (reportUnprintable(projects, pages, terminal)) return EXIT.sourceWrong;
  refuseCollisions(pages);
  const attachments = options.pdf ? await attachAll(projects, pages, terminal) : new Map();
  if (!attachments) return EXIT.sourceWrong;
  const printing = options.pdf ? await printAll(pages, attachments, options, terminal) : undefined;
  const files = [
    ...(printing?.files ?? []),
    ...(options.html ? pages.map((page) => htmlFile(page, printing)) : []),
    ...(options.locked || printing?.failure ? [] : pages.map(resultsFile)),
  ];
  await replaceFiles(files);
  for (const { path } of files) terminal.out(`wrote ${path}`);
  if (printing?.failure) throw printing.failure;
  const notes = pages.map((page) => page.note);
  return options.require === 'complies' && !allComply(notes) ? EXIT.sourceWrong : EXIT.done;
}

function makePage(
  loaded: LoadedProject,
  note: EvaluatedNote,
  results: string,
  options: CompileOptions,
): Page {
  const { project } = loaded;
  if (!project) throw new Error('a note was evaluated without its project');
  const digest = digestSources(note, project, loaded.sourcesOf(note));
  const rendered = renderNote(note, project, {
    images: loaded.imagesOf(note),
    software: SOFTWARE,
    digest,
  });
  const name = note.source.path.replace(/\.md$/, '');
  const stem =
    options.out === undefined ? join(loaded.folder, name) : join(options.out, name.split('/').at(-1)!);
  return { project, note, rendered, digest, results, stem };
}

/** Characters that no font of the page has are faults of the source: found before anything is printed. */
function reportUnprintable(
  projects: readonly LoadedProject[],
  pages: readonly Page[],
  terminal: Terminal,
): boolean {
  const found = projects.map((loaded) => {
    const collector = new Collector();
    for (const page of pages.filter(({ project }) => project === loaded.project)) {
      const texts = [page.note.source.path, 'project.yaml'].map((path) => ({
        path,
        text: loaded.textOf(path) ?? '',
      }));
      checkCharacters(page.rendered.html, texts, collector);
    }
    terminal.diagnostics(collector.list(), loaded.textOf);
    return collector.hasErrors;
  });
  return found.includes(true);
}

/** What the PDF of each page carries; undefined where files cannot be carried, which is reported. */
async function attachAll(
  projects: readonly LoadedProject[],
  pages: readonly Page[],
  terminal: Terminal,
): Promise<ReadonlyMap<Page, readonly Attachment[]> | undefined> {
  const attachments = new Map<Page, readonly Attachment[]>();
  let sound = true;
  for (const loaded of projects) {
    const collector = new Collector();
    for (const page of pages.filter(({ project }) => project === loaded.project))
      attachments.set(page, await attachSources(loaded, page.note, page.results, collector));
    terminal.diagnostics(collector.list(), loaded.textOf);
    sound &&= !collector.hasErrors;
  }
  return sound ? attachments : undefined;
}

/** With --out, notes of several projects may bear one name: none may overwrite the other. */
function refuseCollisions(pages: readonly Page[]): void {
  const stems = pages.map((page) => page.stem);
  const twice = stems.find((stem, i) => stems.indexOf(stem) !== i);
  if (twice === undefined) return;
  throw new OutsideFailure('usage', `two notes would be written to ${twice}.pdf`, {
    hint: 'compile them into folders of their own',
  });
}

interface Printing {
  readonly files: readonly OutputFile[];
  /** The page numbers of each note by its stem. */
  readonly pageMaps: ReadonlyMap<string, Readonly<Record<string, number>>>;
  /** Where the HTML is still to be written although there is no browser. */
  readonly failure?: OutsideFailure;
}

async function printAll(
  pages: readonly Page[],
  attachments: ReadonlyMap<Page, readonly Attachment[]>,
  options: CompileOptions,
  terminal: Terminal,
): Promise<Printing> {
  let printer: Printer;
  try {
    terminal.progress('starting the browser');
    printer = await openPrinter({
      environment: process.env,
      ...(options.browser ? { path: options.browser } : {}),
    });
  } catch (failure) {
    if (!(failure instanceof OutsideFailure) || !options.html) throw failure;
    return { files: [], pageMaps: new Map(), failure };
  }
  try {
    for (const notice of printer.notices) terminal.err(notice);
    const files: OutputFile[] = [];
    const pageMaps = new Map<string, Readonly<Record<string, number>>>();
    for (const [i, page] of pages.entries()) {
      terminal.progress(`printing ${page.note.source.path} (${i + 1} of ${pages.length})`);
      const printed = await printer.print(page.rendered.html);
      pageMaps.set(page.stem, printed.pageMap);
      const bytes = await finish(page, printed.pdf, attachments.get(page) ?? [], printer.version);
      files.push({ path: `${page.stem}.pdf`, bytes });
    }
    return { files, pageMaps };
  } finally {
    await printer.close();
  }
}

async function finish(
  page: Page,
  pdf: Uint8Array,
  attachments: readonly Attachment[],
  browser: string,
): Promise<Uint8Array> {
  const { frontMatter, path } = page.note.source;
  const { project } = page;
  const preparer = project.people.find((person) => person.key === frontMatter.prepared);
  const finished = await finishPdf(pdf, {
    title: page.rendered.title,
    author: preparer?.name ?? project.company?.name ?? project.title,
    subject: `${project.title}; ${frontMatter.documentType}, revision ${frontMatter.revision}`,
    keywords: [frontMatter.number, project.client, project.site],
    creator: `${SOFTWARE.name} ${SOFTWARE.version}`,
    producer: `${SOFTWARE.name} ${SOFTWARE.version} with ${browser}`,
    language: frontMatter.locale,
    date: frontMatter.date,
    identity: page.digest,
    headings: page.rendered.outline.map(({ title, typeset }) => ({ text: title, typeset })),
    attachments,
  });
  refuseStrangeGlyphs(finished, page.rendered.fonts, path);
  return finished.pdf;
}

function htmlFile(page: Page, printing: Printing | undefined): OutputFile {
  const pageMap = printing?.pageMaps.get(page.stem);
  const html = pageMap ? fillPageNumbers(page.rendered.html, pageMap) : page.rendered.html;
  return { path: `${page.stem}.html`, bytes: new TextEncoder().encode(html) };
}

function resultsFile({ stem, results }: Page): OutputFile {
  return { path: resultsPath(`${stem}.md`), bytes: new TextEncoder().encode(results) };
}
