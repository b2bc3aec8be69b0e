import { basename, join } from 'node:path';
import { Collector } from '../diagnostics/collector.ts';
import { type Diagnostic, hasErrors } from '../diagnostics/diagnostic.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { startOf } from '../diagnostics/place.ts';
import { printDiagnostics } from '../diagnostics/print-diagnostics.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { PROJECT_FILE } from '../files/find-project.ts';
import { listNotes } from '../files/load-project.ts';
import { Memory } from '../memory/memory.ts';
import { renderLiveNote } from '../page/render-note.ts';
import type {
  Examination,
  NoteReading,
  PreviewReading,
  PreviewTools,
  PrintedPdf,
  SoundNote,
} from '../preview/preview-reading.ts';
import { compareRecorded } from '../review/compare-recorded.ts';
import { readResults } from '../review/read-results.ts';
import { findFormalGaps } from '../review/sign-off/formal-gaps.ts';
import { type LoadedProject, loadAndEvaluate } from './load-and-evaluate.ts';
import { judgePages, makePages, showsOf } from './make-pages.ts';
import { printPages } from './print-pages.ts';
import { recordNote, recordResults } from './record-results.ts';
import { type ReviewedNote, reviewProject } from './review-notes.ts';
import type { Terminal } from './terminal.ts';

/**
 * What the preview needs of the commands: a project read again and again with one memory, and PDFs of its notes.
 *
 * @param browser the browser to print with
 */
export function openPreviewProject(folder: string, browser: string | undefined): PreviewTools {
  const memory = new Memory();
  return {
    read: () => readProject(folder, memory),
    print: (path, progress) => printNote(join(folder, path), { memory, browser, progress }),
    takeCounts: () => memory.takeCounts(),
  };
}

async function readProject(folder: string, memory: Memory): Promise<PreviewReading> {
  const [whole] = await loadAndEvaluate([folder], { memory, goesOn: true });
  if (!whole) throw new Error('a folder with notes gave no project');
  const paths = await listNotes(folder);
  const notes: NoteReading[] = [];
  const reviewed = hasErrors(whole.diagnostics) ? undefined : await reviewSound(whole);
  for (const path of paths) {
    notes.push(
      reviewed ? readSound(whole, reviewed, path, memory) : await readApart(folder, whole, path, memory),
    );
  }
  memory.endRound();
  const isOfNote = ({ place }: Diagnostic): boolean => place.file.endsWith('.md');
  const diagnostics = [...whole.diagnostics, ...(reviewed?.collector.list() ?? [])];
  return {
    title: whole.project?.title ?? '',
    texts: reviewed?.collector ?? whole,
    notes,
    diagnostics: diagnostics.filter((diagnostic) => !isOfNote(diagnostic)),
  };
}

interface Reviewed {
  readonly notes: ReadonlyMap<EvaluatedNote, ReviewedNote>;
  readonly collector: Collector;
}

async function reviewSound(loaded: LoadedProject): Promise<Reviewed> {
  const collector = new Collector(loaded);
  const { notes } = await reviewProject(loaded, collector);
  return { notes, collector };
}

/** A note of a project in which everything is sound but perhaps records of sign-offs. */
function readSound(
  loaded: LoadedProject,
  { notes, collector }: Reviewed,
  path: string,
  memory: Memory,
): NoteReading {
  const note = loaded.notes.find(({ source }) => source.path === path);
  const said = [...loaded.diagnostics, ...collector.list()].filter((one) => concerns(one, path, note));
  const review = note && notes.get(note);
  return {
    ...nameNote(note, path),
    diagnostics: said,
    sound: note && review && !hasErrors(said) ? soundNote(loaded, note, review, memory) : undefined,
  };
}

/** A note of a project with faults: if they are elsewhere, it is read as if it alone had been asked for. */
async function readApart(
  folder: string,
  whole: LoadedProject,
  path: string,
  memory: Memory,
): Promise<NoteReading> {
  const note = whole.notes.find(({ source }) => source.path === path);
  const own = whole.diagnostics.filter((one) => concerns(one, path, note));
  if (hasErrors(own)) return { ...nameNote(note, path), diagnostics: own, sound: undefined };
  const [alone] = await loadAndEvaluate([join(folder, path)], { memory, goesOn: true });
  if (!alone || hasErrors(alone.diagnostics)) {
    return { ...nameNote(note, path), diagnostics: alone?.diagnostics ?? own, sound: undefined };
  }
  return readSound(alone, await reviewSound(alone), path, memory);
}

/** Whether something that is said stands against the page of a note, or is said of it. */
function concerns(
  { place, related = [] }: Diagnostic,
  path: string,
  note: EvaluatedNote | undefined,
): boolean {
  const files = [place.file, ...related.map((other) => other.place.file)];
  if (files.includes(path)) return true;
  if (files.some((file) => file.endsWith('.md'))) return false;
  const stem = path.replace(/\.md$/, '');
  if (/\.signoff\.yaml$/.test(place.file)) return place.file === `${stem}.signoff.yaml`;
  if (!/\.csv$/i.test(place.file)) return place.file === PROJECT_FILE || /\.ya?ml$/.test(place.file);
  return note?.source.schedules.some(({ rows }) => rows.name === place.file) ?? true;
}

function nameNote(note: EvaluatedNote | undefined, path: string) {
  const { number = '', title = '', revision = '' } = note?.source.frontMatter ?? {};
  return { path, number, title, revision };
}

function soundNote(
  loaded: LoadedProject,
  note: EvaluatedNote,
  review: ReviewedNote,
  memory: Memory,
): SoundNote {
  return {
    note,
    texts: loaded,
    review,
    render: () => renderLiveNote(note, loaded.project!, { ...showsOf(loaded, note, review), memory }),
    examine: () => examine(loaded, note, review),
  };
}

async function examine(
  loaded: LoadedProject,
  note: EvaluatedNote,
  review: ReviewedNote,
): Promise<Examination> {
  const collector = new Collector(loaded);
  for (const { what, hint } of findFormalGaps(note, loaded.project!)) {
    collector.caution('formal-gap', startOf(note.source.path), { what, hint });
  }
  const { path, recorded, fresh, tables } = await recordNote(loaded, note, collector);
  const node = recorded === undefined ? undefined : readResults(path, recorded, new Collector());
  await judgePages(loaded, new Map([[note, review]]), new Map([[note, fresh]]), collector);
  return {
    isRecorded: recorded !== undefined,
    changes: compareRecorded(note, node?.node),
    tables: tables.filter((table) => table.recorded !== table.fresh).map((table) => table.path),
    diagnostics: collector.list(),
  };
}

/** Prints as `compile` does, from the files as they are now, and writes nothing. */
async function printNote(
  path: string,
  {
    memory,
    browser,
    progress,
  }: { memory: Memory; browser: string | undefined; progress: (words: string) => void },
): Promise<PrintedPdf | { readonly refused: string }> {
  const said: string[] = [];
  const terminal: Terminal = {
    out: () => undefined,
    lines: () => undefined,
    columns: undefined,
    wipe: () => undefined,
    err: (text) => said.push(text),
    progress,
    diagnostics: (diagnostics, texts) => {
      const errors = diagnostics.filter(({ severity }) => severity === 'error');
      if (errors.length > 0) said.push(printDiagnostics(errors, texts));
    },
  };
  const projects = await loadAndEvaluate([path], { memory, goesOn: true });
  for (const project of projects) terminal.diagnostics(project.diagnostics, project);
  if (projects.some(({ diagnostics }) => hasErrors(diagnostics))) return { refused: said.join('\n') };
  const recordings = await recordResults(projects, false, terminal);
  const results = new Map([...(recordings ?? [])].map(([note, { fresh }]) => [note, fresh]));
  const pages = recordings && (await makePages(projects, results, terminal));
  if (!pages) return { refused: said.join('\n') };
  const [printed] = await printPages(
    pages.notes,
    { remembers: true, ...(browser === undefined ? {} : { browser }) },
    terminal,
  );
  if (!printed) throw new OutsideFailure('print-failed', `nothing was printed of ${path}`);
  return { name: basename(path).replace(/\.md$/, '.pdf'), bytes: printed.pdf };
}
