import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPageTexts } from '../../src/pdf/read-page-texts.ts';
import { openPrinter, type Printer } from '../../src/print/print-document.ts';

/**
 * What a document could try, all in one page. URL stands for an address of its own for each, on a server on this machine
 * that counts what reaches it.
 */
const TOGETHER: Record<string, string> = {
  image: '<img src="URL">',
  'image of a file': '<img src="file:///etc/hostname?URL">',
  'image in a set': '<img srcset="URL 2x">',
  'style sheet': '<link rel="stylesheet" href="URL">',
  'imported style sheet': '<style>@import url(URL);</style>',
  background: '<style>body { background: url(URL) }</style>',
  'bullet of a list': '<style>li { list-style-image: url(URL) }</style><ul><li>x</ul>',
  font: '<style>@font-face { font-family: f; src: url(URL) } p { font-family: f }</style><p>x',
  prefetch: '<link rel="prefetch" href="URL">',
  preload: '<link rel="preload" as="image" href="URL">',
  icon: '<link rel="icon" href="URL">',
  'frame with a document of its own': `<iframe srcdoc="<img src='URL'>"></iframe>`,
  'frame with a file': '<iframe src="file:///etc/passwd?URL"></iframe>',
  video: '<video src="URL"></video>',
  'picture of a video': '<video poster="URL"></video>',
  'image in a drawing': '<svg><image href="URL"/></svg>',
  'part of another drawing': '<svg><use href="URL#a"/></svg>',
};

/** What the browser reports without the whole address, or what would hide the others: each in a page of its own. */
const ALONE: Record<string, string> = {
  'image beside the document': '<img src="picture.png">',
  frame: '<iframe src="URL"></iframe>',
  object: '<object data="URL"></object>',
  embed: '<embed src="URL">',
  script: '<script src="URL"></script>',
  'script in the document': '<script>fetch("URL")</script>',
  'script in an event': '<body onload="fetch(\'URL\')">',
  'script in a drawing': '<svg><script>fetch("URL")</script></svg>',
  'change of address': '<meta http-equiv="refresh" content="0; url=URL">',
  'base address': '<base href="URL"><img src="x.png">',
};

let server: Server;
let printer: Printer;
let address: string;
const hits: string[] = [];

beforeAll(async () => {
  server = createServer((request, response) => {
    hits.push(request.url ?? '');
    response.end();
  });
  server.on('connection', () => hits.push('connection'));
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  printer = await openPrinter({ environment: process.env });
});
afterAll(async () => {
  await printer?.close();
  server.close();
});

const embed = (attempt: string): string =>
  `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>x</title></head><body>${attempt}<p>Text</p></body></html>`;

describe('a document that wants more than itself', () => {
  it('is refused, and everything that it asked for is named', async () => {
    const attempts = Object.entries(TOGETHER).map(([name, html], index) => ({
      name,
      html: html.replaceAll('URL', `${address}attempt-${index}`),
      mark: new RegExp(
        html.includes('file:') ? `file:///etc/\\w+\\?\\S+attempt-${index}\\b` : `attempt-${index}\\b`,
      ),
    }));
    const failure = await printer
      .print(embed(attempts.map(({ html }) => html).join('')))
      .catch((error) => error);
    expect(failure).toMatchObject({ name: 'OutsideFailure', code: 'print-blocked' });
    const report = `${failure.message}\n${failure.cause.message}`;
    expect(attempts.filter(({ mark }) => !mark.test(report)).map(({ name }) => name)).toEqual([]);
  });

  it.each(Object.entries(ALONE))('is refused: %s', async (_, attempt) => {
    await expect(printer.print(embed(attempt.replaceAll('URL', address)))).rejects.toMatchObject({
      name: 'OutsideFailure',
      code: 'print-blocked',
    });
  });

  it('reaches nothing by hints that are never reported', async () => {
    await printer.print(
      embed(`<link rel="dns-prefetch" href="${address}"><link rel="preconnect" href="${address}">`),
    );
  });

  it('runs no script', async () => {
    const { pdf } = await printer.print(embed('<noscript>Scripts are off.</noscript>'));
    expect((await readPageTexts(pdf)).join()).toContain('Scripts are off.');
  });

  it('has not reached the server once', async () => {
    expect(hits).toEqual([]);
    // The server does count: a request from here arrives.
    await fetch(address);
    expect(hits).toContain('/');
  });
});
