import { execFileSync, spawn } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { OutsideFailure } from '../../src/diagnostics/outside-failure.ts';
import { replaceFiles } from '../../src/files/replace-file.ts';
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
  test('new and old files, in folders that exist or not', async () => {
    const folder = temporaryFolder({ 'a.pdf': 'old' });
    const before = listeners();
    await replaceFiles([
      { path: join(folder, 'a.pdf'), bytes: bytes('new') },
      { path: join(folder, 'out/deep/b.html'), bytes: bytes('page') },
    ]);
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
        /cannot be written: (it is a folder|a file stands where a folder is needed|its name is too long)$/,
      );
      expect(readFileSync(join(folder, 'a.pdf'), 'utf8')).toBe('old');
      expect(readdirSync(folder).sort()).toEqual(['a.pdf', 'file', 'folder']);
      expect(listeners()).toEqual(before);
    },
  );
});

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
      compile(built);
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
        expect(readdirSync(folder).filter((name) => name.includes('.tmp-'))).toHaveLength(2);
        program.kill(how);
      }
      expect(await ended).toBe(how === 'exit' ? 0 : how);
      expect(errors).toBe('');
      expect(readdirSync(folder)).toEqual(['a.pdf']);
      expect(readFileSync(join(folder, 'a.pdf'), 'utf8')).toBe('old');
    },
  );
});

/** Compiles the module under test into a folder, so that a program of its own can run it. */
function compile(folder: string): void {
  const root = new URL('../../', import.meta.url).pathname;
  execFileSync(process.execPath, [
    join(root, 'node_modules/typescript/bin/tsc'),
    ...['--ignoreConfig', '--outDir', folder, '--rootDir', join(root, 'src')],
    ...['--module', 'nodenext', '--target', 'es2023', '--rewriteRelativeImportExtensions', '--types', 'node'],
    ...['--typeRoots', join(root, 'node_modules/@types'), '--skipLibCheck'],
    join(root, 'src/files/replace-file.ts'),
  ]);
  expect(existsSync(join(folder, 'files/replace-file.js'))).toBe(true);
}
