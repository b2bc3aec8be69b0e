import { readdir, stat } from 'node:fs/promises';
import { relative, resolve, sep } from 'node:path';
import { Collector } from '../diagnostics/collector.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { startOf } from '../diagnostics/place.ts';
import { findProject, PROJECT_FILE } from './find-project.ts';
import { readSource, type SourceText } from './read-source.ts';

/** The texts of a project: project.yaml, and the notes and submittals that were asked for. */
export interface ProjectTexts {
  /** Absolute. */
  readonly folder: string;
  readonly project: SourceText | undefined;
  readonly notes: readonly SourceText[];
  /** The submittals that were asked for; their notes are for others to read. */
  readonly submittals: readonly SourceText[];
  /** Holds what could not be read; reading goes on in it. */
  readonly collector: Collector;
}

/**
 * Reads the texts that paths name: each a note, a submittal, or a project folder for all its notes (every .md in it but README.md) and
 * submittals. Paths into several projects give several.
 *
 * @param isSubmittal whether a file is a submittal, by its name
 * @throws {OutsideFailure} where a path does not exist, or lies in no project
 */
export async function loadProjects(
  paths: readonly string[],
  isSubmittal: (name: string) => boolean = () => false,
): Promise<ProjectTexts[]> {
  const wanted = new Map<string, Set<string>>();
  const whole = new Set<string>();
  for (const path of paths) {
    const folder = await findProject(path);
    const files = wanted.get(folder) ?? new Set<string>();
    wanted.set(folder, files);
    for (const file of await filesOf(path, folder, isSubmittal)) files.add(file);
    if ((await stat(resolve(path))).isDirectory()) whole.add(folder);
  }
  return Promise.all(
    [...wanted].map(async ([folder, files]) => {
      const texts = await readTexts(folder, [...files]);
      const names = await listFiles(folder, () => true);
      reportAlike(files, names, texts.collector);
      if (whole.has(folder)) reportPassedOver(names, isSubmittal, texts.collector);
      return texts;
    }),
  );
}

/** What is wrong with the names of the files in a project's folder, all of whose documents are asked for. */
export function judgeNames(
  names: readonly string[],
  isSubmittal: (name: string) => boolean,
  collector: Collector,
): void {
  reportAlike(new Set(names.filter((name) => isNoteName(name) || isSubmittal(name))), names, collector);
  reportPassedOver(names, isSubmittal, collector);
}

/** Of two names that some file systems hold as one, only one file comes along to those. */
function reportAlike(files: ReadonlySet<string>, names: readonly string[], collector: Collector): void {
  for (const name of [...files, PROJECT_FILE]) {
    const other = names.find((one) => one !== name && fold(one) === fold(name));
    // Of two that are asked for, it is told once.
    if (other === undefined || (files.has(other) && other > name)) continue;
    collector.error('file-names-alike', startOf(name), { name, other });
  }
}

/** Files that somebody may take for documents of the project, and the program does not. */
function reportPassedOver(
  names: readonly string[],
  isSubmittal: (name: string) => boolean,
  collector: Collector,
): void {
  const taken = new Set(names.filter((name) => isNoteName(name) || isSubmittal(name)).map(fold));
  for (const name of names) {
    const small = fold(name);
    const isOne = isNoteName(small) || isSubmittal(small);
    if (!isOne || isNoteName(name) || isSubmittal(name) || taken.has(small)) continue;
    const ends = isNoteName(small) ? '.md' : 'submittal.yaml';
    collector.caution('document-passed-over', startOf(name), { ends });
  }
}

function fold(name: string): string {
  return name.normalize('NFC').toLowerCase();
}

async function filesOf(
  path: string,
  folder: string,
  isSubmittal: (name: string) => boolean,
): Promise<string[]> {
  const absolute = resolve(path);
  if ((await stat(absolute)).isDirectory()) {
    const names = await listNotes(folder);
    if (names.length === 0)
      throw new OutsideFailure('no-notes', `${path} holds no notes: no .md file lies in it`);
    return [...names, ...(await listFiles(folder, isSubmittal))];
  }
  const name = relative(folder, absolute).split(sep).join('/');
  if (!name.endsWith('.md') && !isSubmittal(name)) {
    throw new OutsideFailure('not-a-note', `${path} is not a note: notes are .md files`);
  }
  return [name];
}

/** The notes of a project by their names: every .md in its folder but README.md. */
export function listNotes(folder: string): Promise<string[]> {
  return listFiles(folder, isNoteName);
}

/** The files of a folder whose names fit, sorted. */
export async function listFiles(folder: string, fits: (name: string) => boolean): Promise<string[]> {
  return (await readdir(folder, { withFileTypes: true }))
    .filter((entry) => !entry.isDirectory() && fits(entry.name))
    .map((entry) => entry.name)
    .sort();
}

/** Hidden files are what editors keep beside a note. */
export function isNoteName(name: string): boolean {
  return name.endsWith('.md') && !name.startsWith('.') && name.toLowerCase() !== 'readme.md';
}

async function readTexts(folder: string, files: readonly string[]): Promise<ProjectTexts> {
  const collector = new Collector();
  const project = await readSource(folder, PROJECT_FILE, collector);
  const read = await Promise.all(files.map((file) => readSource(folder, file, collector)));
  const texts = read.filter((text) => text !== undefined);
  const isNote = ({ path }: SourceText): boolean => path.endsWith('.md');
  return {
    folder,
    project,
    notes: texts.filter(isNote),
    submittals: texts.filter((text) => !isNote(text)),
    collector,
  };
}
