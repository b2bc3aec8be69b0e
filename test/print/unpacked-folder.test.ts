import {
  chmodSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { PackedFile } from '../../src/print/unpack-files.ts';
import { openUnpackedFolder } from '../../src/print/unpacked-folder.ts';

const root = mkdtempSync(join(tmpdir(), 'unpacked-folder-'));
const program = join(root, 'program.br');
const archive = fileURLToPath(new URL('../bin/fonts.tar.br', import.meta.resolve('@sparticuz/chromium')));
const packed: PackedFile[] = [
  { path: program, kind: 'program' },
  { path: archive, kind: 'archive' },
];

beforeAll(() => writeFileSync(program, brotliCompressSync(Buffer.from('the program'))));
afterAll(() => rmSync(root, { recursive: true }));

describe('openUnpackedFolder', () => {
  it('unpacks once, for this user alone', async () => {
    const first = await openUnpackedFolder(root, 'once', packed);
    const file = join(first.path, 'program');
    expect(readFileSync(file, 'utf8')).toBe('the program');
    expect(statSync(first.path).mode & 0o777).toBe(0o700);
    expect(statSync(file).mode & 0o777).toBe(0o700);
    const { ino } = statSync(file);
    expect(await openUnpackedFolder(root, 'once', packed)).toEqual({ path: first.path });
    expect(statSync(file).ino).toBe(ino);
  });

  it.each<[string, (folder: string) => void, string]>([
    [
      'one byte',
      (folder) => writeFileSync(join(folder, 'program'), 'The program'),
      'program has other content',
    ],
    ['the length', (folder) => writeFileSync(join(folder, 'program'), 'more'), 'program has another size'],
    ['a file that is gone', (folder) => rmSync(join(folder, 'fonts.conf')), 'fonts.conf is missing'],
    [
      'a file too many',
      (folder) => writeFileSync(join(folder, 'libc.so'), ''),
      'libc.so does not belong to it',
    ],
    [
      'a broken record',
      (folder) => writeFileSync(join(folder, 'record.json'), '{'),
      'record.json cannot be read',
    ],
  ])('notices %s and unpacks anew', async (name, damage, fault) => {
    const { path } = await openUnpackedFolder(root, name, packed);
    damage(path);
    expect(await openUnpackedFolder(root, name, packed)).toEqual({ path, replaced: fault });
    expect(readFileSync(join(path, 'program'), 'utf8')).toBe('the program');
    expect(await openUnpackedFolder(root, name, packed)).toEqual({ path });
  });

  it('reads the files again where any was touched, even with its old size and time, or a day has passed', async () => {
    const { path } = await openUnpackedFolder(root, 'marked', packed);
    const file = join(path, 'program');
    const mark = `${path}.checked`;
    rmSync(mark, { force: true });
    // A file that was changed just now could be changed once more without a sign of it.
    const all = ['.', ...readdirSync(path, { recursive: true, encoding: 'utf8' })];
    const changed = Math.max(...all.map((name) => statSync(join(path, name)).ctimeMs));
    const openLater = async (milliseconds: number): Promise<void> => {
      const clock = vi.spyOn(Date, 'now').mockReturnValue(changed + milliseconds);
      await openUnpackedFolder(root, 'marked', packed);
      clock.mockRestore();
    };
    await openLater(1900);
    expect(existsSync(mark)).toBe(false);
    await openLater(2100);
    expect(existsSync(mark)).toBe(true);
    // Who reads the files again marks the folder anew.
    const marked = () => statSync(mark).mtimeMs;
    utimesSync(mark, new Date(), Date.now() / 1000 - 80_000);
    const first = marked();
    await openLater(2100);
    expect(marked()).toBe(first);
    utimesSync(mark, new Date(), Date.now() / 1000 - 90_000);
    await openLater(2100);
    expect(marked()).toBeGreaterThan(first);
    utimesSync(mark, new Date(), new Date());
    const { atime, mtime } = statSync(file);
    writeFileSync(file, 'tHe program');
    utimesSync(file, atime, mtime);
    expect(await openUnpackedFolder(root, 'marked', packed)).toEqual({
      path,
      replaced: 'program has other content',
    });
  });

  it('serves several at once and leaves nothing else behind', async () => {
    const all = await Promise.all(Array.from({ length: 6 }, () => openUnpackedFolder(root, 'many', packed)));
    expect(new Set(all.map(({ path }) => path)).size).toBe(1);
    expect(readdirSync(root).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  it('says what is wrong where the package is damaged', async () => {
    const damaged = join(root, 'damaged.br');
    writeFileSync(damaged, 'no brotli at all');
    chmodSync(damaged, 0o600);
    await expect(
      openUnpackedFolder(root, 'damaged', [{ path: damaged, kind: 'program' }]),
    ).rejects.toMatchObject({
      name: 'OutsideFailure',
      code: 'browser-unpack',
    });
    expect(readdirSync(root)).not.toContain('damaged');
  });
});
