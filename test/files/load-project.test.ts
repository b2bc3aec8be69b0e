import { execFileSync } from 'node:child_process';
import { chmodSync, mkdirSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { OutsideFailure } from '../../src/diagnostics/outside-failure.ts';
import { findProject } from '../../src/files/find-project.ts';
import { loadProjects } from '../../src/files/load-project.ts';
import { told } from '../support/told.ts';
import { temporaryFolder } from './temporary-folder.ts';

async function failure(work: Promise<unknown>): Promise<OutsideFailure> {
  const error = await work.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(OutsideFailure);
  return error as OutsideFailure;
}

async function load(...paths: string[]) {
  const projects = await loadProjects(paths);
  expect(projects).toHaveLength(1);
  const [project] = projects;
  return {
    ...project!,
    names: project!.notes.map((note) => note.path),
    found: told(project!.collector).map(({ place, code, message }) => ({ ...place, code, message })),
  };
}

describe('the project that a path belongs to', () => {
  test('is the nearest folder upward with project.yaml', async () => {
    const folder = temporaryFolder({ 'project.yaml': '', 'a/project.yaml': '', 'a/b/c/note.md': '' });
    expect(await findProject(join(folder, 'a/b/c/note.md'))).toBe(join(folder, 'a'));
    expect(await findProject(join(folder, 'a/b'))).toBe(join(folder, 'a'));
    expect(await findProject(join(folder, 'project.yaml'))).toBe(folder);
  });

  test('a folder of that name is no project', async () => {
    const folder = temporaryFolder({ 'project.yaml': '', 'a/note.md': '' });
    mkdirSync(join(folder, 'a/project.yaml'));
    expect(await findProject(join(folder, 'a/note.md'))).toBe(folder);
  });

  test('there is none', async () => {
    const folder = temporaryFolder({ 'note.md': '' });
    expect((await failure(findProject(join(folder, 'note.md')))).code).toBe('no-project');
    const missing = await failure(findProject(join(folder, 'other.md')));
    expect(missing.code).toBe('not-found');
    expect(missing.message).toContain('does not exist');
  });
});

describe('the texts of a project', () => {
  test('a folder gives all its notes, in the order of their names', async () => {
    const folder = temporaryFolder({
      'project.yaml': 'title: a\n',
      '010-b.md': 'b',
      '002-a.md': 'a',
      'README.md': 'not a note',
      '.hidden.md': 'not a note',
      'survey.csv': 'not a note',
      'data/inner.md': 'not a note',
      'folder.md/inner.txt': 'not a note',
    });
    const { project, names, found } = await load(folder);
    expect(project?.text).toBe('title: a\n');
    expect(names).toEqual(['002-a.md', '010-b.md']);
    expect(found).toEqual([]);
  });

  test('notes are read once, however often and however they are named', async () => {
    const folder = temporaryFolder({ 'project.yaml': '', 'a.md': 'a', 'part/b.md': 'b' });
    const { names } = await load(
      join(folder, 'part/b.md'),
      join(folder, 'part/../a.md'),
      join(folder, 'a.md'),
    );
    expect(names).toEqual(['part/b.md', 'a.md']);
  });

  test('notes of several projects', async () => {
    const folder = temporaryFolder({
      'a/project.yaml': '',
      'a/1.md': '',
      'b/project.yaml': '',
      'b/2.md': '',
    });
    const projects = await loadProjects([join(folder, 'b'), join(folder, 'a/1.md')]);
    expect(projects.map((p) => [p.folder, p.notes.map((note) => note.path)])).toEqual([
      [join(folder, 'b'), ['2.md']],
      [join(folder, 'a'), ['1.md']],
    ]);
  });

  test('what is no note is refused', async () => {
    const folder = temporaryFolder({ 'project.yaml': '', 'survey.csv': '' });
    expect((await failure(loadProjects([join(folder, 'survey.csv')]))).code).toBe('not-a-note');
    expect((await failure(loadProjects([folder]))).code).toBe('no-notes');
  });

  test('the mark of UTF-8 at the beginning is not part of the text', async () => {
    const folder = temporaryFolder({ 'project.yaml': '', 'a.md': '\uFEFFText µ' });
    expect((await load(folder)).notes[0]!.text).toBe('Text µ');
  });

  test.each([
    ['a byte of another encoding', [0x61, 0x0a, 0xc2, 0xb5, 0x62, 0xb5, 0x63], 2, 3],
    ['behind a replacement character that was written', [0xef, 0xbf, 0xbd, 0x20, 0xff], 1, 3],
    ['behind the mark of UTF-8', [0xef, 0xbb, 0xbf, 0x61, 0xff], 1, 2],
    ['a character that breaks off', [0x61, 0xe2, 0x82], 1, 2],
    ['behind a character of four bytes', [0xf0, 0x9f, 0x98, 0x80, 0xfe], 1, 3],
    ['UTF-16', [0xff, 0xfe, 0x61, 0x00], 1, 1],
  ])('not UTF-8: %s', async (_, bytes, line, column) => {
    const folder = temporaryFolder({ 'project.yaml': '', 'a.md': Uint8Array.from(bytes), 'b.md': 'sound' });
    const { names, found } = await load(folder);
    expect(names).toEqual(['b.md']);
    expect(found).toMatchObject([{ file: 'a.md', line, column, code: 'not-utf8' }]);
  });

  test('what cannot be read is reported, and the rest is read', async () => {
    const folder = temporaryFolder({
      'project.yaml': '',
      'sound.md': 'text',
      'large.md': 'x'.repeat(8_388_609),
    });
    const outside = temporaryFolder({ 'secret.md': 'secret' });
    symlinkSync(join(outside, 'secret.md'), join(folder, 'linked.md'));
    symlinkSync('nowhere.md', join(folder, 'dangling.md'));
    symlinkSync('sound.md', join(folder, 'within.md'));
    symlinkSync('circle.md', join(folder, 'circle.md'));
    execFileSync('mkfifo', [join(folder, 'pipe.md')]);
    const { names, found } = await load(folder);
    expect(names).toEqual(['sound.md', 'within.md']);
    expect(found.map(({ file, message }) => `${file}: ${message}`)).toEqual([
      'circle.md: the file cannot be read: its symbolic links lead in a circle',
      'dangling.md: the file cannot be read: it does not exist',
      'large.md: the file has 8388609 bytes; a text of a project has at most 8388608',
      'linked.md: the file cannot be read: it is a link that leads out of the project',
      'pipe.md: the file cannot be read: it is not an ordinary file',
    ]);
  });

  test('a file that may not be read is reported', async () => {
    const folder = temporaryFolder({ 'project.yaml': '', 'a.md': 'a' });
    chmodSync(join(folder, 'a.md'), 0);
    const message = 'the file cannot be read: access is not permitted';
    // The superuser reads whatever he wants.
    const expected = process.getuid?.() === 0 ? [] : [{ file: 'a.md', code: 'file-unreadable', message }];
    expect((await load(folder)).found).toMatchObject(expected);
  });

  test('names that elsewhere are one file are told, and files that are nearly documents', async () => {
    const folder = temporaryFolder({
      'project.yaml': '',
      '1.md': 'a',
      '1.MD': 'b',
      '2.Md': 'c',
      'b\u00e9.md': 'd',
      'be\u0301.md': 'e',
      'north.Submittal.yaml': 'f',
      'readme.MD': 'g',
    });
    const isSubmittal = (name: string) => name.endsWith('.submittal.yaml');
    const of = async (...paths: string[]) => {
      const [project] = await loadProjects(paths, isSubmittal);
      return told(project!.collector).map(({ place, code, severity }) => `${place.file} ${severity} ${code}`);
    };
    expect(await of(folder)).toEqual([
      '1.md error file-names-alike',
      '2.Md caution document-passed-over',
      'b\u00e9.md error file-names-alike',
      'north.Submittal.yaml caution document-passed-over',
    ]);
    expect(await of(join(folder, '1.md'))).toEqual(['1.md error file-names-alike']);
    expect(await of(join(folder, 'b\u00e9.md'))).toEqual(['b\u00e9.md error file-names-alike']);
  });
});
