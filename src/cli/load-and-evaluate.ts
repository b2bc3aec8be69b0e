import { availableParallelism } from 'node:os';
import { posix } from 'node:path';
import { Collector } from '../diagnostics/collector.ts';
import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import type { SourceTexts } from '../diagnostics/positions.ts';
import type { EvaluationTools } from '../evaluation/evaluate-block.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { EvaluatedSubmittal } from '../evaluation/submittal/evaluated-submittal.ts';
import { listTables } from '../files/list-tables.ts';
import { loadOtherNotes } from '../files/load-other-notes.ts';
import { listFiles, listNotes, loadProjects, type ProjectTexts } from '../files/load-project.ts';
import { type ImageFile, readImage } from '../files/read-image.ts';
import { type IncludedFiles, readIncluded } from '../files/read-included.ts';
import { readSource, type SourceText } from '../files/read-source.ts';
import { recoverProjects } from '../files/recover-projects.ts';
import { Memory } from '../memory/memory.ts';
import { checkPhotos } from '../page/photo/check-photos.ts';
import type { SourceFile } from '../review/digest-sources.ts';
import { openProject, type ProjectSession } from '../session/project-session.ts';
import type { NoteSource } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { listIncludes } from '../source/read-includes.ts';
import { noteNumberOf } from '../source/reference-target.ts';
import { isSubmittalName } from '../source/submittal-source.ts';
import { spreadOverThreads, type ThreadOptions } from '../threads/spread-over-threads.ts';

/** A project with its notes read and evaluated, and everything that printing them needs. */
export interface LoadedProject extends SourceTexts {
  readonly folder: string;
  readonly project: ProjectSource | undefined;
  /** Not to be printed where `diagnostics` holds an error. */
  readonly notes: readonly EvaluatedNote[];
  /** Those of the notes that were asked for as documents of their own; the others stand in submittals. */
  readonly asked: readonly EvaluatedNote[];
  readonly submittals: readonly EvaluatedSubmittal[];
  /** The files of the submittals. */
  readonly submittalFiles: readonly SourceFile[];
  /** Notes that were not asked for, from which those take values, also through others. */
  readonly others: readonly EvaluatedNote[];
  readonly diagnostics: readonly Diagnostic[];
  /** The picture that project.yaml names for the letterhead. */
  readonly logo?: ImageFile;
  imagesOf(note: EvaluatedNote): ReadonlyMap<string, ImageFile>;
  /** The files on which a note rests, each once: itself, project.yaml and what that includes, its tables and images. */
  sourcesOf(note: EvaluatedNote): readonly NoteFile[];
}

/** A file on which a note rests, by its path in the project. */
export interface NoteFile extends SourceFile {
  /** Where it is told from the content. */
  readonly mimeType?: string;
}

/** How samples are worked changes no result. */
export interface EvaluationOptions extends Partial<ThreadOptions> {
  /**
   * For paths that a user names: what an earlier run left half written there is put right first, and that is told.
   * Absent for folders of our own.
   */
  readonly tell?: (notice: string) => void;
  /** Holds what was computed before, for whoever asks again and again. */
  readonly memory?: Memory;
  /** More will be asked of the same files before one changes. */
  readonly goesOn?: boolean;
}

/** Reads and evaluates the notes that paths name. Every fault of every note is among the diagnostics. */
export async function loadAndEvaluate(
  paths: readonly string[],
  { tell, memory = new Memory(), goesOn = false, ...options }: EvaluationOptions = {},
): Promise<LoadedProject[]> {
  if (tell) await recoverProjects(paths, { tell });
  const spread = spreadOverThreads({ threads: availableParallelism(), ...options });
  const projects = await loadProjects(paths, isSubmittalName);
  return Promise.all(projects.map((texts) => evaluateTexts(texts, { spread, memory }, goesOn)));
}

async function evaluateTexts(
  texts: ProjectTexts,
  tools: EvaluationTools,
  goesOn: boolean,
): Promise<LoadedProject> {
  const { folder, project, collector } = texts;
  const included = await readIncluded(
    folder,
    project ? listIncludes(project.path, project.text) : [],
    collector,
  );
  const files = new Map(
    [...(project ? [project] : []), ...included.texts, ...texts.notes].map((file) => [file.path, file]),
  );
  const session = openProject(
    [...files].map(([path, { text }]) => [path, text] as const),
    tools,
  );
  const listed = await loadListedNotes(texts, session);
  const printed = [...texts.notes, ...listed.notes];
  for (const file of listed.notes) files.set(file.path, file);
  const others = await loadOtherNotes(
    folder,
    {
      notes: printed,
      numberOf: noteNumberOf,
      numbersIn: (file) => {
        session.change(file.path, file.text);
        return session.numbersIn(file.path);
      },
    },
    collector,
  );
  for (const file of others.notes) files.set(file.path, file);
  const tables = await readTables(folder, [...printed, ...others.notes], session, collector);
  for (const file of tables.texts) files.set(file.path, file);
  const images = new Map<NoteSource, ReadonlyMap<string, ImageFile>>();
  const readAll = async (notes: readonly SourceText[], faults: Collector): Promise<void> => {
    for (const { path } of notes) {
      const source = session.sourceOf(path);
      if (source) images.set(source, await readImages(folder, source, faults));
    }
  };
  await readAll(printed, collector);
  // The images of the others are not printed: they only count for the sign-offs over there.
  await readAll(others.notes, new Collector());
  const logo = await readLogo(folder, session.projectSource(included.unreadable), collector);
  const notes = printed.map(({ path }) => path);
  const state = session.state({
    notes,
    submittals: texts.submittals.map(({ path }) => path),
    unread: [...others.unread, ...listed.unread],
    found: collector,
    unreadable: new Set([...included.unreadable, ...tables.unreadable]),
    tableNames: tables.names,
    goesOn,
  });
  const asked = new Set(texts.notes.map(({ path }) => path));
  return {
    folder,
    ...state,
    asked: state.notes.filter(({ source }) => asked.has(source.path)),
    submittalFiles: texts.submittals,
    ...(logo ? { logo: logo.image } : {}),
    imagesOf: (note) => images.get(note.source) ?? new Map(),
    sourcesOf: (note) => [
      ...[project, ...included.texts, files.get(note.source.path), ...tablesOf(note.source, files)].filter(
        (file) => file !== undefined,
      ),
      ...withLogo(listImages(note.source, images.get(note.source) ?? new Map()), logo?.file),
    ],
  };
}

/** Reads the tables of the schedules of notes into the session. */
async function readTables(
  folder: string,
  notes: readonly SourceText[],
  session: ProjectSession,
  collector: Collector,
): Promise<IncludedFiles & { readonly names: readonly string[] }> {
  const wanted = notes.flatMap(
    ({ path }) => session.sourceOf(path)?.schedules.map(({ rows }) => rows.name) ?? [],
  );
  const paths = [...new Set(wanted)].filter((path) => session.textOf(path) === undefined);
  const read = await readIncluded(folder, paths, collector);
  for (const { path, text } of read.texts) session.change(path, text);
  return { ...read, names: paths.length > read.texts.length ? await listTables(folder) : [] };
}

/** Several schedules may have one table; one that is a register too is listed with those. */
function tablesOf({ schedules }: NoteSource, files: ReadonlyMap<string, NoteFile>): NoteFile[] {
  const paths = new Set(schedules.map(({ rows }) => rows.name));
  return [...paths].flatMap((path) => {
    const file = files.get(path);
    return file ? [{ ...file, mimeType: 'text/csv' }] : [];
  });
}

/**
 * Reads the notes that submittals list. The session takes all notes and submittals of the project, since no document may have the number of
 * another; what else is wrong with those that nobody asks for or lists, nobody is told.
 */
async function loadListedNotes(
  { folder, notes, submittals, collector }: ProjectTexts,
  session: ProjectSession,
): Promise<{ readonly notes: readonly SourceText[]; readonly unread: readonly string[] }> {
  for (const { path, text } of submittals) session.change(path, text);
  const texts = new Map<string, SourceText>();
  const faults = new Map<string, Collector>();
  for (const path of [...(await listNotes(folder)), ...(await listFiles(folder, isSubmittalName))]) {
    if (session.textOf(path) !== undefined) continue;
    const reading = new Collector();
    const file = await readSource(folder, path, reading);
    faults.set(path, reading);
    if (!file) continue;
    texts.set(path, file);
    session.change(path, file.text);
  }
  const unread = [...faults.keys()].filter((path) => !texts.has(path) && !isSubmittalName(path));
  const known = new Set(notes.map(({ path }) => path));
  const listed = new Set(submittals.flatMap(({ path }) => session.listedIn(path, unread)));
  const missing = [...listed].filter((path) => !known.has(path));
  for (const path of missing) {
    const reading = faults.get(path);
    if (reading) collector.addAll(reading);
  }
  return { notes: missing.flatMap((path) => texts.get(path) ?? []), unread };
}

/** The picture of the letterhead, with the file that it is; what is wrong with it is reported. */
async function readLogo(
  folder: string,
  project: ProjectSource | undefined,
  collector: Collector,
): Promise<{ readonly image: ImageFile; readonly file: NoteFile } | undefined> {
  const logo = project?.letterhead?.logo;
  const image = logo && (await readImage(folder, logo.address, logo.place, collector));
  if (!image) return undefined;
  const path = posix.normalize(decodeURIComponent(logo.address));
  return { image, file: { path, bytes: image.bytes, mimeType: image.mime } };
}

/** A note may show the picture of the letterhead too. */
function withLogo(images: readonly NoteFile[], logo: NoteFile | undefined): readonly NoteFile[] {
  return logo && !images.some(({ path }) => path === logo.path) ? [...images, logo] : images;
}

/** Two addresses may name one image. */
function listImages(source: NoteSource, images: ReadonlyMap<string, ImageFile>): NoteFile[] {
  const files = new Map<string, NoteFile>();
  for (const [address, { bytes, mime }] of images) {
    const path = posix.join(posix.dirname(source.path), decodeURIComponent(address));
    files.set(path, { path, bytes, mimeType: mime });
  }
  return [...files.values()];
}

async function readImages(
  folder: string,
  source: NoteSource,
  collector: Collector,
): Promise<ReadonlyMap<string, ImageFile>> {
  const images = new Map<string, ImageFile>();
  for (const { address, place } of source.images) {
    const image = await readImage(folder, address, place, collector);
    if (image) images.set(address, image);
  }
  checkPhotos(source.photos, images, collector);
  return images;
}
