import { mkdirSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Page } from 'puppeteer-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openPrinter } from '../../src/print/print-document.ts';
import { judgeProject } from '../hostile/judge-project.ts';
import { openBrowser } from '../preview/open-browser.ts';
import { startPreview } from '../preview/start-preview.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { PROJECT } from '../support/write-project.ts';
import { listAttempts } from './reaching-out.ts';

// A note, a drawing or a project that names an address in every way that fetches one: evaluated, printed, opened as a page in a reader's browser, and shown
// in the preview. A server on this machine counts who comes; to the reader's browser every name leads there.

const root = temporaryFolder();
const hits: string[] = [];
const server = createServer((request, response) => {
  hits.push(request.url ?? '');
  response.end();
});
server.on('connection', () => hits.push('connection'));

/** The attempts that are no errors: their pages, and the projects they come from. */
const pages: { readonly name: string; readonly html: string }[] = [];
const sound: Parameters<typeof judgeProject>[1][] = [];
let address = '';
let port = 0;

beforeAll(async () => {
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  port = (server.address() as AddressInfo).port;
  address = `http://127.0.0.1:${port}/`;
});
afterAll(() => {
  server.close();
});

test('evaluated and composed: refused, or a page', async () => {
  const attempts = listAttempts(address);
  expect(attempts.length).toBeGreaterThan(200);
  for (const [name, files] of attempts) {
    const judged = await judgeProject(root, files);
    const [html] = judged.pages;
    if (html === undefined) continue;
    pages.push({ name, html });
    sound.push(files);
  }
  // Links, texts that only look like markup, and addresses in plain words.
  expect(pages.length).toBeGreaterThan(20);
  expect(hits).toEqual([]);
});

/** All pages in one document: what one of them fetched would be refused in print, and named. */
function allPages(): string {
  const bodies = pages.map(({ html }) => html.slice(html.indexOf('<body>') + 6, html.lastIndexOf('</body>')));
  const [head] = pages[0]!.html.split('<body>');
  return `${head}<body>${bodies.join('')}</body></html>`;
}

test('printed', async () => {
  const printer = await openPrinter({ environment: process.env });
  await printer.print(allPages());
  await printer.close();
  expect(hits).toEqual([]);
});

test('opened in a reader’s browser, from a file and from the preview; the handbook too', async () => {
  const reader = await openBrowser(`MAP * 127.0.0.1:${port}, EXCLUDE 127.0.0.1`);
  try {
    const page = await reader.browser.newPage();
    await page.setViewport({ width: 1200, height: 8000 });
    const file = join(root, 'page.html');
    writeFileSync(file, allPages());
    await page.goto(pathToFileURL(file).href, { waitUntil: 'load' });
    expect(hits).toEqual([]);
    await showInPreview(page);
    const handbook = join(root, 'handbook');
    await runInProcess(['describe', '--all', '--no-pdf', '--out', handbook]);
    for (const name of ['index.html', 'arrester-connection.html']) {
      await page.goto(pathToFileURL(join(handbook, name)).href, { waitUntil: 'load' });
    }
    expect(hits).toEqual([]);
    // The server does count, and the browser does reach it: by number and by any name.
    await page.goto('http://somewhere.example/here', { waitUntil: 'load' });
    expect(hits).toContain('/here');
  } finally {
    await reader.close();
  }
});

/** One project with the notes of all attempts that change no other file, and its pages in the preview. */
async function showInPreview(page: Page): Promise<void> {
  const folder = join(root, 'preview');
  mkdirSync(folder);
  const texts = sound
    .filter((files) => Object.keys(files).length === 1)
    .map((files) => files['001.md'] as string);
  const parts = texts.map((text) => text.slice(text.indexOf('## Trial')));
  const [front] = texts[0]!.split('## Trial');
  const body = parts.filter((part) => !part.includes('id: one') && !/^\[(?:\^1|r)\]:/m.test(part)).join('\n');
  writeFileSync(join(folder, 'project.yaml'), PROJECT);
  writeFileSync(join(folder, '001.md'), `${front}${body}`);
  const preview = await startPreview(folder);
  const shown = await page.goto(`${preview.address}/note/001.md`, { waitUntil: 'load' });
  expect(shown?.status()).toBe(200);
  const frames = await Promise.all(page.frames().map((frame) => frame.content()));
  expect(frames.some((html) => html.includes(address))).toBe(true);
  await preview.close();
}
