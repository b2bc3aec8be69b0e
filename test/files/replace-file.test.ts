import { spawn } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { OutsideFailure } from '../../src/diagnostics/outside-failure.ts';
import { LARGEST_TEXT, readSource } from '../../src/files/read-source.ts';
import { replaceFiles } from '../../src/files/replace-file.ts';
import { compileModule } from '../support/compile-module.ts';
import { temporaryFolder } from './temporary-folder.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP', 'exit'] as const;
const listeners = () => SIGNALS.map((event) => process.listenerCount(event));

async function failure(work: Promise<unknown>): Promise<OutsideFailure> {
  const error = await work.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(OutsideFailure);
  return error as OutsideFailure;
}

describe('files are replaced as a group', () => {
  test('a record that would be too large to be read again is not written, nor what goes with it', async () => {
    const folder = temporaryFolder({ 'issues.yaml': 'old' });
    const write = (size: number) =>
      replaceFiles([
        { path: join(folder, 'issues.yaml'), bytes: Buffer.alloc(size, 'x') },
        { path: join(folder, '1.pdf'), bytes: Buffer.alloc(LARGEST_TEXT + 9) },
      ]);
    expect((await failure(write(LARGEST_TEXT + 1))).message).toContain('issues.yaml would be too large');
    expect(readdirSync(folder)).toEqual(['issues.yaml']);
    expect(readFileSync(join(folder, 'issues.yaml'), 'utf8')).toBe('old');
    await write(LARGEST_TEXT);
    const text = await readSource(folder, 'issues.yaml', new Collector());
    expect(text?.text.length).toBe(LARGEST_TEXT);
  });

  test('new and old files, in folders that exist or not', async () => {
    const folder = temporaryFolder({ 'a.pdf': 'old' });
    const before = listeners();
    await replaceFiles(
      [
        { path: join(folder, 'a.pdf'), bytes: bytes('new') },
        { path: join(folder, 'out/deep/b.html'), bytes: bytes('page') },
      ],
      { makes: join(folder, 'out') },
    );
    expect(readFileSync(join(folder, 'a.pdf'), 'utf8')).toBe('new');
    expect(readFileSync(join(folder, 'out/deep/b.html'), 'utf8')).toBe('page');
    expect(readdirSync(folder).sort()).toEqual(['a.pdf', 'out']);
    expect(listeners()).toEqual(before);
    await replaceFiles([]);
  });

  test('a reader who has the old file open keeps it: it is replaced, not written into', async () => {
    const folder = temporaryFolder({ 'a.pdf': 'old' });
    const before = statSync(join(folder, 'a.pdf')).ino;
    await replaceFiles([{ path: join(folder, 'a.pdf'), bytes: bytes('new') }]);
    expect(statSync(join(folder, 'a.pdf')).ino).not.toBe(before);
  });

  test.each(['folder', 'file/c.pdf', `${'x'.repeat(300)}.pdf`])(
    'where %s cannot be written, nothing is',
    async (name) => {
      const folder = temporaryFolder({ 'a.pdf': 'old', file: 'in the way' });
      mkdirSync(join(folder, 'folder'));
      const before = listeners();
      const error = await failure(
        replaceFiles([
          { path: join(folder, 'a.pdf'), bytes: bytes('new') },
          { path: join(folder, name), bytes: bytes('new') },
        ]),
      );
      expect(error.code).toBe('not-written');
      expect(error.message).toMatch(
        /cannot be written: (it is a folder|there is a file where a folder is needed|its name is too long)$/,
      );
      expect(readFileSync(join(folder, 'a.pdf'), 'utf8')).toBe('old');
      expect(readdirSync(folder).sort()).toEqual(['a.pdf', 'file', 'folder']);
      expect(listeners()).toEqual(before);
    },
  );
});

describe('what others have done meanwhile', () => {
  const file = (folder: string, was: string | null) => ({
    path: join(folder, 'issues.yaml'),
    bytes: bytes('read and added to'),
    was: was === null ? null : bytes(was),
  });

  test.each([
    ['changed', 'of somebody else', 'as read'],
    ['made', 'of somebody else', null],
    ['removed', undefined, 'as read'],
  ])('a file that was %s is left alone, and so are the others', async (_, now, was) => {
    const folder = temporaryFolder({ 'a.pdf': 'old', ...(now === undefined ? {} : { 'issues.yaml': now }) });
    const error = await failure(
      replaceFiles([{ path: join(folder, 'a.pdf'), bytes: bytes('new') }, file(folder, was)]),
    );
    expect(error.code).toBe('changed-meanwhile');
    expect(error.message).toMatch(/^nothing was written: .*issues\.yaml was changed meanwhile$/);
    expect(readFileSync(join(folder, 'a.pdf'), 'utf8')).toBe('old');
    if (now !== undefined) expect(readFileSync(join(folder, 'issues.yaml'), 'utf8')).toBe(now);
    expect(readdirSync(folder).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  test('a file that is as it was read, or has become what is written, is no fault', async () => {
    const folder = temporaryFolder({ 'issues.yaml': 'as read' });
    await replaceFiles([file(folder, 'as read')]);
    await replaceFiles([file(folder, 'as read')]);
    expect(readFileSync(join(folder, 'issues.yaml'), 'utf8')).toBe('read and added to');
  });

  test('a folder that was removed is not made again', async () => {
    const folder = join(temporaryFolder(), 'project');
    const error = await failure(replaceFiles([file(folder, null)], { makes: `${folder}-out` }));
    expect(error.message).toMatch(/project cannot be written: the folder is not there, or not any more$/);
    expect(existsSync(folder)).toBe(false);
  });

  test('a file that is write-protected stays, and so do the others; root alone may write it', async () => {
    const folder = temporaryFolder({ 'a.pdf': 'old', 'b.yaml': 'protected' });
    chmodSync(join(folder, 'b.yaml'), 0o444);
    const both = ['a.pdf', 'b.yaml'].map((name) => ({ path: join(folder, name), bytes: bytes('new') }));
    const read = () => ['a.pdf', 'b.yaml'].map((name) => readFileSync(join(folder, name), 'utf8'));
    if (process.getuid?.() === 0) {
      await replaceFiles(both);
      expect(read()).toEqual(['new', 'new']);
      return;
    }
    expect((await failure(replaceFiles(both))).message).toMatch(/b\.yaml cannot be written: access is not/);
    expect(read()).toEqual(['old', 'protected']);
  });

  test('what cannot take its place though it could be written: the others are put back', async () => {
    const folder = temporaryFolder({ 'a.pdf': 'old' });
    const prototype = await fileHandles(join(folder, 'a.pdf'));
    let written = 0;
    const sync = vi.spyOn(prototype, 'sync').mockImplementation(async () => {
      written += 1;
      // In the last moment, somebody puts a folder where the third file belongs.
      if (written === 3) mkdirSync(join(folder, 'c.yaml/inside'), { recursive: true });
    });
    const files = ['a.pdf', 'b.html', 'c.yaml'].map((name) => ({
      path: join(folder, name),
      bytes: bytes('new'),
    }));
    const error = await failure(replaceFiles(files)).finally(() => sync.mockRestore());
    expect(error.code).toBe('not-written');
    expect(readFileSync(join(folder, 'a.pdf'), 'utf8')).toBe('old');
    expect(readdirSync(folder).sort()).toEqual(['a.pdf', 'c.yaml']);
  });
});

/** What all open files of this process have in common. */
async function fileHandles(path: string): Promise<FileHandle> {
  const handle = await open(path, 'r');
  await handle.close();
  return Object.getPrototypeOf(handle) as FileHandle;
}

describe('a program that is told to stop', () => {
  /**
   * A program that writes a first file and then waits for one that comes through a pipe which nobody fills: the first is
   * written under its temporary name at that moment, and the second is not.
   */
  const PROGRAM = `
    import { open } from 'node:fs/promises';
    const probe = await open(process.argv[2], 'r');
    const prototype = Object.getPrototypeOf(probe);
    await probe.close();
    const sync = prototype.sync;
    let count = 0;
    prototype.sync = async function () {
      await sync.call(this);
      count += 1;
      if (count === 2) {
        console.log('waiting');
        if (process.argv[4] === 'exit') process.exit(0);
        await new Promise((resolve) => setTimeout(resolve, 60_000));
      }
    };
    const { replaceFiles } = await import(process.argv[3]);
    const folder = process.argv[2].replace(/[^/]*$/, '');
    await replaceFiles(['a.pdf', 'b.pdf'].map((name) => ({ path: folder + name, bytes: Buffer.from('new') })));
  `;

  test.each(['SIGINT', 'SIGTERM', 'SIGHUP', 'exit'] as const)(
    '%s leaves the old files and nothing half-written',
    async (how) => {
      const built = temporaryFolder({ 'program.mjs': PROGRAM, 'package.json': '{"type":"module"}' });
      const folder = temporaryFolder({ 'a.pdf': 'old' });
      await compileModule(built, 'files/replace-file.ts');
      const program = spawn(process.execPath, [
        join(built, 'program.mjs'),
        join(folder, 'a.pdf'),
        join(built, 'files/replace-file.js'),
        how,
      ]);
      const ended = new Promise((resolve) => program.on('exit', (code, signal) => resolve(signal ?? code)));
      let errors = '';
      program.stderr.on('data', (text) => {
        errors += text;
      });
      await new Promise((resolve) => program.stdout.once('data', resolve));
      if (how !== 'exit') {
        expect(readdirSync(folder).filter((name) => name.endsWith('.tmp'))).toHaveLength(2);
        program.kill(how);
      }
      expect(await ended).toBe(how === 'exit' ? 0 : how);
      expect(errors).toBe('');
      expect(readdirSync(folder)).toEqual(['a.pdf']);
      expect(readFileSync(join(folder, 'a.pdf'), 'utf8')).toBe('old');
    },
  );
});
