import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { brotliDecompressSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { readTar } from '../../src/print/read-tar.ts';

const packed = fileURLToPath(new URL('../bin/fonts.tar.br', import.meta.resolve('@sparticuz/chromium')));

/** One entry in the form of POSIX.1-1988, with a right check sum. */
function makeEntry(name: string, content: string, kind = '0', size = content.length): Buffer {
  const header = Buffer.alloc(512);
  header.write(name, 0);
  header.write('0000644\0', 100);
  header.write(`${size.toString(8).padStart(11, '0')}\0`, 124);
  header.write('        ', 148);
  header.write(kind, 156);
  header.write('ustar\0' + '00', 257);
  const sum = header.reduce((total, byte) => total + byte, 0);
  header.write(`${sum.toString(8).padStart(6, '0')}\0 `, 148);
  return Buffer.concat([header, Buffer.from(content.padEnd(Math.ceil(content.length / 512) * 512, '\0'))]);
}

const END = Buffer.alloc(1024);

describe('readTar', () => {
  it('reads an archive that GNU tar made', async () => {
    const files = await readTar(brotliDecompressSync(readFileSync(packed)));
    expect(files.map(({ name }) => name).sort()).toEqual([
      'fonts.conf',
      'fonts/Open_Sans/OpenSans-Bold.ttf',
      'fonts/Open_Sans/OpenSans-Italic.ttf',
      'fonts/Open_Sans/OpenSans-Regular.ttf',
    ]);
    // Sizes as `tar tv` lists them, and the first four bytes of a TrueType font (OpenType specification, "sfntVersion").
    const bold = files.find(({ name }) => name.endsWith('Bold.ttf'));
    expect(bold?.bytes.length).toBe(147_264);
    expect([...(bold?.bytes.subarray(0, 4) ?? [])]).toEqual([0, 1, 0, 0]);
  });

  it('reads an empty file and one that fills its last block', async () => {
    const archive = Buffer.concat([makeEntry('a', ''), makeEntry('b', 'x'.repeat(512)), END]);
    expect((await readTar(archive)).map(({ name, bytes }) => [name, bytes.length])).toEqual([
      ['a', 0],
      ['b', 512],
    ]);
  });

  it.each([
    ['leaves the folder', Buffer.concat([makeEntry('a/../../b', 'x'), END]), 'a/../../b'],
    ['starts at the root', Buffer.concat([makeEntry('/etc/x', 'x'), END]), '/etc/x'],
    ['is a link', Buffer.concat([makeEntry('l', '', '2'), END]), 'kind "symlink"'],
    ['is a device', Buffer.concat([makeEntry('null', '', '3'), END]), 'kind "character-device"'],
    ['is of no known kind', Buffer.concat([makeEntry('s', '', 'S'), END]), 'kind "null"'],
    ['is cut off', makeEntry('a', 'x'.repeat(600)).subarray(0, 700), 'no end mark'],
    ['has no end', makeEntry('a', 'x'), 'no end mark'],
    [
      'says that it is longer',
      Buffer.concat([makeEntry('a', 'x', '0', 6000), END]),
      'Unexpected end of data',
    ],
    ['has no length', Buffer.concat([makeEntry('a', 'x', '0', Number.NaN), END]), 'Invalid'],
  ])('refuses an archive with an entry that %s', async (_, archive, message) => {
    await expect(readTar(archive)).rejects.toThrow(message);
  });

  it('refuses a header that was changed', async () => {
    const archive = Buffer.concat([makeEntry('a', 'x'), END]);
    archive.write('b', 0);
    await expect(readTar(archive)).rejects.toThrow('Invalid tar header');
  });
});
