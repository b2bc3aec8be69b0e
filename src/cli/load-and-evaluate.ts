import { availableParallelism } from 'node:os';
import { posix } from 'node:path';
import type { Collector } from '../diagnostics/collector.ts';
import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import type { SourceTexts } from '../diagnostics/positions.ts';
import type { Spread } from '../engine/definition/piece-task.ts';
import { evaluateProject } from '../evaluation/evaluate-project.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { spreadOverThreads, type ThreadOptions } from '../evaluation/spread-over-threads.ts';
import { loadProjects, type ProjectTexts } from '../files/load-project.ts';
import { type ImageFile, readImage } from '../files/read-image.ts';
import { recoverProjects } from '../files/recover-projects.ts';
import { checkMath, checkOwnFormulas } from '../page/check-math.ts';
import { checkTargets } from '../page/check-targets.ts';
import type { SourceFile } from '../review/digest-sources.ts';
import type { NoteSource } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { readNote } from '../source/read-note.ts';
import { readProject } from '../source/read-project.ts';

/** A project with its notes read and evaluated, and everything that printing them needs. */
export interface LoadedProject extends SourceTexts {
  readonly folder: string;
  readonly project: ProjectSource | undefined;
  /** Not to be printed where `diagnostics` holds an error. */
  readonly notes: readonly EvaluatedNote[];
  readonly diagnostics: readonly Diagnostic[];
  imagesOf(note: EvaluatedNote): ReadonlyMap<string, ImageFile>;
  /** The files on which a note rests, each once: itself, project.yaml, its images. */
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
}

/** Reads and evaluates the notes that paths name. Every fault of every note is among the diagnostics. */
export async function loadAndEvaluate(
  paths: readonly string[],
  { tell, ...options }: EvaluationOptions = {},
): Promise<LoadedProject[]> {
  if (tell) await recoverProjects(paths, { tell });
  const spread = spreadOverThreads({ threads: availableParallelism(), ...options });
  return Promise.all((await loadProjects(paths)).map((texts) => evaluateTexts(texts, spread)));
}

async function evaluateTexts(texts: ProjectTexts, spread: Spread): Promise<LoadedProject> {
  const { folder, collector } = texts;
  const project = texts.project && readProject(texts.project.path, texts.project.text, collector);
  const sources = texts.notes.flatMap((text) => readNote(text.path, text.text, collector) ?? []);
  const images = new Map<NoteSource, ReadonlyMap<string, ImageFile>>();
  for (const source of sources) {
    checkMath(source, collector);
    images.set(source, await readImages(folder, source, collector));
  }
  const evaluated = project && evaluateProject(project, sources, collector, { spread });
  for (const note of evaluated?.notes ?? []) checkOwnFormulas(note, collector);
  // Headings must be fit to be set before their ids can be told.
  if (!collector.hasErrors) for (const note of evaluated?.notes ?? []) checkTargets(note, collector);
  const bytes = new Map(
    [texts.project, ...texts.notes].flatMap((text) => (text ? [[text.path, text] as const] : [])),
  );
  return {
    folder,
    project,
    notes: evaluated?.notes ?? [],
    diagnostics: collector.list(),
    textOf: (file) => collector.textOf(file),
    startOfPiece: (file, piece) => collector.startOfPiece(file, piece),
    imagesOf: (note) => images.get(note.source) ?? new Map(),
    sourcesOf: (note) => [
      ...[texts.project, bytes.get(note.source.path)].filter((text) => text !== undefined),
      ...listImages(note.source, images.get(note.source) ?? new Map()),
    ],
  };
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
  return images;
}
