import { readdir, stat } from 'node:fs/promises';
import { relative, resolve, sep } from 'node:path';
import { Collector } from '../diagnostics/collector.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { findProject, PROJECT_FILE } from './find-project.ts';
import { readSource, type SourceText } from './read-source.ts';

/** The texts of a project: project.yaml and the notes that were asked for. */
export interface ProjectTexts {
  /** Absolute. */
  readonly folder: string;
  readonly project: SourceText | undefined;
  readonly notes: readonly SourceText[];
  /** Holds what could not be read; reading goes on in it. */
  readonly collector: Collector;
}

/**
 * Reads the texts that paths name: each a note, or a project folder for all its notes (every .md in it but README.md).
 * Paths into several projects give several.
 *
 * @throws {OutsideFailure} where a path does not exist, or lies in no project
 */
export async function loadProjects(paths: readonly string[]): Promise<ProjectTexts[]> {
  const wanted = new Map<string, Set<string>>();
  for (const path of paths) {
    const folder = await findProject(path);
    const notes = wanted.get(folder) ?? new Set<string>();
    wanted.set(folder, notes);
    for (const note of await notesOf(path, folder)) notes.add(note);
  }
  return Promise.all([...wanted].map(([folder, notes]) => readTexts(folder, [...notes])));
}

async function notesOf(path: string, folder: string): Promise<string[]> {
  const absolute = resolve(path);
  if ((await stat(absolute)).isDirectory()) {
    const names = await listNotes(folder);
    if (names.length === 0)
      throw new OutsideFailure('no-notes', `${path} holds no notes: no .md file lies in it`);
    return names;
  }
  if (!absolute.endsWith('.md')) {
    throw new OutsideFailure('not-a-note', `${path} is not a note: notes are .md files`);
  }
  return [relative(folder, absolute).split(sep).join('/')];
}

/** The notes of a project by their names: every .md in its folder but README.md. */
export async function listNotes(folder: string): Promise<string[]> {
  return (await readdir(folder, { withFileTypes: true }))
    .filter((entry) => !entry.isDirectory() && isNoteName(entry.name))
    .map((entry) => entry.name)
    .sort();
}

/** Hidden files are what editors keep beside a note. */
function isNoteName(name: string): boolean {
  return name.endsWith('.md') && !name.startsWith('.') && name.toLowerCase() !== 'readme.md';
}

async function readTexts(folder: string, notes: readonly string[]): Promise<ProjectTexts> {
  const collector = new Collector();
  const project = await readSource(folder, PROJECT_FILE, collector);
  const texts = await Promise.all(notes.map((note) => readSource(folder, note, collector)));
  return { folder, project, notes: texts.filter((text) => text !== undefined), collector };
}
