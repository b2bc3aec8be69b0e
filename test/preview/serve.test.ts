import { request } from 'node:http';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { EXIT } from '../../src/cli/exit-status.ts';
import { fillEditor } from '../../src/preview/answer-request.ts';
import { refuseRequest, TOKEN_HEADER } from '../../src/preview/guard-request.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { startPreview, type TrialPreview } from './start-preview.ts';
import { writeTrialProject } from './trial-project.ts';

const folder = join(temporaryFolder(), 'feeders');
let preview: TrialPreview;
beforeAll(async () => {
  writeTrialProject(folder);
  preview = await startPreview(folder);
});
afterAll(() => preview?.close());

interface Reply {
  readonly status: number;
  readonly headers: NodeJS.Dict<string | string[]>;
  readonly body: Buffer;
}

/** Asks with whatever headers, which `fetch` would not send. */
function ask(path: string, headers: Readonly<Record<string, string>> = {}, method = 'GET'): Promise<Reply> {
  return new Promise((done, fail) => {
    const asked = request({ host: '127.0.0.1', port: preview.port, path, method, headers }, (response) => {
      const chunks: Buffer[] = [];
      response.on('data', (chunk: Buffer) => chunks.push(chunk));
      response.on('end', () =>
        done({ status: response.statusCode ?? 0, headers: response.headers, body: Buffer.concat(chunks) }),
      );
    });
    asked.on('error', fail);
    asked.end();
  });
}

describe('who is answered', () => {
  const door = { port: 4100, token: 'secret' };
  const asks = (headers: Readonly<Record<string, string>>, method = 'GET') =>
    refuseRequest({ method, headers: { host: '127.0.0.1:4100', ...headers } }, door)?.status;

  test('by the address of this machine alone: a name that leads here is another site', () => {
    expect(asks({})).toBeUndefined();
    expect(asks({ host: 'localhost:4100' })).toBeUndefined();
    for (const host of [
      'rebound.example:4100',
      '127.0.0.1:4101',
      '127.0.0.1',
      '127.0.0.1:4100.example',
      '[::1]:4100',
    ])
      expect(asks({ host }), host).toBe(421);
    expect(refuseRequest({ method: 'GET', headers: {} }, door)?.status).toBe(421);
  });

  test('pages from elsewhere are not, whatever they ask', () => {
    expect(asks({ origin: 'http://127.0.0.1:4100' })).toBeUndefined();
    for (const origin of ['https://rebound.example', 'null', 'http://127.0.0.1:9', 'https://127.0.0.1:4100'])
      expect(asks({ origin }), origin).toBe(403);
    const shown = { 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'navigate' };
    expect(asks({ ...shown, 'sec-fetch-dest': 'document' })).toBeUndefined();
    expect(asks({ ...shown, 'sec-fetch-dest': 'iframe' })).toBe(403);
    expect(asks({ 'sec-fetch-site': 'same-site', 'sec-fetch-mode': 'no-cors' })).toBe(403);
  });

  test('nothing is done without the token of a page of this preview', () => {
    expect(asks({}, 'POST')).toBe(403);
    expect(asks({ [TOKEN_HEADER]: 'secrez' }, 'POST')).toBe(403);
    expect(asks({ [TOKEN_HEADER]: 'secret' }, 'POST')).toBeUndefined();
    for (const method of ['PUT', 'DELETE', 'OPTIONS', 'PATCH']) expect(asks({}, method)).toBe(405);
  });
});

test('the server refuses a foreign Host and a foreign Origin, and a POST without its token', async () => {
  expect((await ask('/', { Host: 'rebound.example' })).status).toBe(421);
  expect((await ask('/update/021-feeders.md', { Origin: 'https://rebound.example' })).status).toBe(403);
  expect((await ask('/print/021-feeders.md', {}, 'POST')).status).toBe(403);
  const { status, headers } = await ask('/');
  expect(status).toBe(200);
  expect(headers['content-security-policy']).toMatch(/^default-src 'none'; script-src 'self';/);
  expect(headers['access-control-allow-origin']).toBeUndefined();
});

test('no file is handed out but the texts of the project', async () => {
  expect((await ask('/source/project.yaml')).status).toBe(200);
  for (const path of ['..%2F..%2Fetc%2Fpasswd', '%2Fetc%2Fpasswd', '.git%2Fconfig', '%E0%A4%A'])
    expect((await ask(`/source/${path}`)).status, path).toBe(404);
  for (const path of ['..%2Fnote.hbs', '__proto__', 'constructor', 'toString', 'preview.css.map'])
    expect((await ask(`/asset/${path}`)).status, path).toBe(404);
  for (const path of [
    '/note/023-none.md',
    '/nothing',
    '/print/77',
    '/place/021-feeders.md',
    '/spot/023.md?line=2',
  ])
    expect((await ask(path)).status, path).toBe(404);
});

test('two previews of one project, and a client that goes in the middle, disturb nobody', async () => {
  const second = await startPreview(folder);
  const events = request({ host: '127.0.0.1', port: preview.port, path: '/events' });
  const first = await new Promise<string>((done) => {
    events.on('response', (response) => response.once('data', (chunk: Buffer) => done(chunk.toString())));
    events.on('error', () => undefined);
    events.end();
  });
  expect(first).toContain('event: session');
  events.destroy();
  await preview.project.renew();
  expect((await ask('/list')).body.toString()).toContain('Feeder arresters');
  expect(await (await fetch(`${second.address}/list`)).text()).toContain('Feeder arresters');
  await second.close();
});

test('a PDF is printed on request, with progress, and the project keeps its files', async () => {
  const { readdirSync } = await import('node:fs');
  const before = readdirSync(folder);
  const token = /data-token="([^"]+)"/.exec((await ask('/')).body.toString())![1]!;
  const started = await ask('/print/021-feeders.md', { 'X-Preview-Token': token }, 'POST');
  const { job } = JSON.parse(started.body.toString()) as { job: string };
  const told = new Set<string>();
  let state: { state: string; words?: string; href?: string };
  do {
    state = JSON.parse((await ask(`/print/${job}`)).body.toString());
    if (state.words !== undefined) told.add(state.words);
    await new Promise((done) => setTimeout(done, 60));
  } while (state.state === 'printing');
  expect(state.state).toBe('done');
  // The browser of this worker may run already, and then starting it takes no time that could be told.
  expect([...told].join()).toMatch(/starting the browser|printing /);
  const pdf = await ask(state.href!);
  expect(pdf.headers['content-disposition']).toBe("attachment; filename*=UTF-8''021-feeders.pdf");
  expect(pdf.body.subarray(0, 5).toString()).toBe('%PDF-');
  expect(readdirSync(folder)).toEqual(before);
});

test('a port that is in use, and options that nobody can mean, are refused in words', async () => {
  const used = await runInProcess(['preview', folder, '--port', String(preview.port)]);
  expect(used.status).toBe(EXIT.outside);
  expect(used.err).toContain(`port ${preview.port} of this machine is in use`);
  expect(used.err).toContain('leave --port out');
  for (const args of [
    ['--port', '70000'],
    ['--port', '8o'],
    ['--editor', 'javascript:alert({path})'],
    ['--editor', 'my-editor://open'],
  ])
    expect((await runInProcess(['preview', folder, ...args])).status, args.join(' ')).toBe(EXIT.usage);
  expect((await runInProcess(['preview', join(folder, 'none')])).status).toBe(EXIT.outside);
});

test('the address for an editor', () => {
  expect(
    fillEditor('my-editor://open?file={path}&at={line}:{column}', {
      path: '/home/a b/1&2.md',
      line: 7,
      column: 3,
    }),
  ).toBe('my-editor://open?file=/home/a%20b/1%262.md&at=7:3');
});
