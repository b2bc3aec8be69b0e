import { execFileSync } from 'node:child_process';
import { mkdirSync, symlinkSync, truncateSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { readImage } from '../../src/files/read-image.ts';
import { told } from '../support/told.ts';
import { jpegOf, pngOf } from './pictures.ts';
import { temporaryFolder } from './temporary-folder.ts';

const PNG = pngOf();
const JPEG = jpegOf();

async function read(folder: string, address: string, note = 'note.md') {
  const collector = new Collector();
  const place = { file: note, start: 70, end: 82 };
  const image = await readImage(folder, address, place, collector);
  const found = told(collector);
  for (const diagnostic of collector.list()) expect(diagnostic.place).toEqual(place);
  expect(image === undefined).toBe(found.length > 0);
  return image ? image.mime : `${found[0]!.code}: ${found[0]!.message}`;
}

test('the kind is read from the content, not from the name', async () => {
  const folder = temporaryFolder({
    'a.png': PNG,
    'a.jpg': JPEG,
    'a.svg': '<svg xmlns="http://www.w3.org/2000/svg"/>',
    'b.svg':
      '\uFEFF<?xml version="1.0"?>\n<!-- drawn -->\n<!DOCTYPE svg PUBLIC "a" "b">\n<svg xmlns="http://www.w3.org/2000/svg"></svg>',
    'wrong.png': JPEG,
    'text.png': 'just a text',
    'page.svg': '<html><svg/></html>',
    'half.png': PNG.subarray(0, 4),
    'empty.png': '',
  });
  expect(await read(folder, 'a.png')).toBe('image/png');
  expect(await read(folder, 'a.jpg')).toBe('image/jpeg');
  expect(await read(folder, 'a.svg')).toBe('image/svg+xml');
  expect(await read(folder, 'b.svg')).toBe('image/svg+xml');
  expect(await read(folder, 'wrong.png')).toBe('image/jpeg');
  for (const name of ['text.png', 'page.svg', 'half.png', 'empty.png']) {
    expect(await read(folder, name)).toBe(
      `image-unreadable: the image '${name}' cannot be used: it is neither PNG, JPEG nor SVG`,
    );
  }
});

test('the address counts from the note, and blanks may be written as such or escaped', async () => {
  const folder = temporaryFolder({ 'images/earth lead.png': PNG, 'part/own.png': PNG });
  expect(await read(folder, 'images/earth lead.png')).toBe('image/png');
  expect(await read(folder, './images/earth%20lead.png')).toBe('image/png');
  expect(await read(folder, '../images/earth%20lead.png', 'part/note.md')).toBe('image/png');
  expect(await read(folder, 'own.png', 'part/note.md')).toBe('image/png');
  expect(await read(folder, 'own.png')).toMatch(/^image-missing/);
});

test('nothing outside the project is read, by whatever way', async () => {
  const outside = temporaryFolder({ 'secret.png': PNG });
  const folder = temporaryFolder({ 'project/a.png': PNG, 'beside.png': PNG, 'project-b/c.png': PNG });
  const project = join(folder, 'project');
  symlinkSync(join(outside, 'secret.png'), join(project, 'link.png'));
  symlinkSync(outside, join(project, 'linked'));
  symlinkSync('a.png', join(project, 'inner.png'));
  symlinkSync('../beside.png', join(project, 'relative.png'));
  expect(await read(project, 'inner.png')).toBe('image/png');
  for (const address of [
    'link.png',
    'linked/secret.png',
    'relative.png',
    '../beside.png',
    '%2e%2e/beside.png',
    '../project-b/c.png',
    'linked',
    '..',
    '.',
  ]) {
    expect(await read(project, address), address).toMatch(/^image-outside/);
  }
});

test('a project behind a symbolic link is read all the same', async () => {
  const folder = temporaryFolder({ 'project/a.png': PNG });
  symlinkSync('project', join(folder, 'link'));
  expect(await read(join(folder, 'link'), 'a.png')).toBe('image/png');
});

test('what is missing or no ordinary file', async () => {
  const folder = temporaryFolder({ 'a.png': PNG, 'large.png': PNG });
  mkdirSync(join(folder, 'folder.png'));
  execFileSync('mkfifo', [join(folder, 'pipe.png')]);
  truncateSync(join(folder, 'large.png'), 20 * 1024 * 1024 + 1);
  expect(await read(folder, 'b.png')).toBe("image-missing: the image 'b.png' does not exist");
  expect(await read(folder, 'folder.png')).toMatch(/it is a folder$/);
  expect(await read(folder, 'pipe.png')).toMatch(/it is not an ordinary file$/);
  expect(await read(folder, 'large.png')).toMatch(/it has 20971521 bytes, more than 20971520$/);
  expect(await read(folder, 'a.png/b.png')).toMatch(/: part of its path is not a folder$/);
  expect(await read(folder, 'a%2.png')).toMatch(/its address is not well formed$/);
  expect(await read(folder, 'a.png%00.svg')).toMatch(/its address is not well formed$/);
  expect(await read(folder, `${'x'.repeat(300)}.png`)).toMatch(/its name is too long$/);
});
