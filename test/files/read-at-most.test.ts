import { execFileSync } from 'node:child_process';
import {
  appendFileSync,
  closeSync,
  mkdirSync,
  openSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readAtMost } from '../../src/files/read-at-most.ts';
import { wordFileError } from '../../src/files/word-file-error.ts';
import { temporaryFolder } from './temporary-folder.ts';

async function refusal(path: string, most = 1000): Promise<string> {
  return readAtMost(path, most).then((bytes) => `read ${bytes.length} bytes`, wordFileError);
}

test('an ordinary file is read whole, also through a link and where its size is not known before', async () => {
  const folder = temporaryFolder({ a: 'x'.repeat(1000), empty: '' });
  symlinkSync('a', join(folder, 'link'));
  expect(await refusal(join(folder, 'link'))).toBe('read 1000 bytes');
  expect(await refusal(join(folder, 'empty'))).toBe('read 0 bytes');
  // Files of the kernel state that they have no bytes (proc(5)).
  expect((await readAtMost('/proc/self/status', 100_000)).toString()).toContain(`Pid:\t${process.pid}\n`);
});

test('no more than so many bytes are read, whatever the file states', async () => {
  const folder = temporaryFolder({ a: 'x'.repeat(1001) });
  expect(await refusal(join(folder, 'a'))).toBe('it has 1001 bytes, more than 1000');
  expect(await refusal('/proc/self/status', 20)).toBe('it has more than 20 bytes');
});

test('a file that somebody goes on writing is read as far as it went', async () => {
  const folder = temporaryFolder({ a: 'row,of,a,table\n'.repeat(20_000) });
  const path = join(folder, 'a');
  const reading = readAtMost(path, 1_000_000);
  // Appended in the pauses of the reading.
  const timer = setInterval(() => appendFileSync(path, 'x'.repeat(100_000)), 0);
  const read = await reading.finally(() => clearInterval(timer));
  expect(read.length % 100_000).toBe(0);
  expect(readFileSync(path).subarray(0, read.length).equals(read)).toBe(true);
});

test('nobody waits for a pipe that nobody writes into, nor reads a device', async () => {
  const folder = temporaryFolder({});
  const pipe = join(folder, 'pipe');
  execFileSync('mkfifo', [pipe]);
  symlinkSync('/dev/zero', join(folder, 'link'));
  mkdirSync(join(folder, 'folder'));
  for (const path of [pipe, join(folder, 'link'), '/dev/zero'])
    expect(await refusal(path), path).toBe('it is not an ordinary file');
  expect(await refusal(join(folder, 'folder'))).toBe('it is a folder');
  expect(await refusal(join(folder, 'none'))).toBe('it does not exist');
});

test('what was opened for the process is read, whatever it is', async () => {
  const folder = temporaryFolder({});
  writeFileSync(join(folder, 'a'), 'handed over');
  const handle = openSync(join(folder, 'a'), 'r');
  const zero = openSync('/dev/zero', 'r');
  try {
    expect((await readAtMost(`/dev/fd/${handle}`, 1000)).toString()).toBe('handed over');
    expect(await refusal(`/dev/fd/${zero}`)).toBe('it has more than 1000 bytes');
  } finally {
    closeSync(handle);
    closeSync(zero);
  }
});
