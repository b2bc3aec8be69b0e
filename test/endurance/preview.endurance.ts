import { rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { startPreview, type TrialPreview } from '../preview/start-preview.ts';
import { PATIENCE } from '../support/patience.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, writeProject } from '../support/write-project.ts';
import type { Random } from './random.ts';
import { runCases } from './run-cases.ts';

// What no browser would ask of a preview, in bytes: nothing of it is served to another site, nothing from outside the project at all, each request
// that ends is answered, and the preview goes on.

const root = temporaryFolder();
const folder = join(root, 'project');
const SECRET = 'what lies beside the project';
const ODD_NAME = '2 %2e%2e \'a\u202eb" <b>&.md';
const NOTE = noteWith(
  'arrangement: common-earth\nline_lead: 1 m\nearth_lead: 3 m\nresidual_voltage: 33 kV\nsteepness: 10 kA/us',
);
let preview: TrialPreview;

beforeAll(async () => {
  writeFileSync(join(root, 'secret.txt'), SECRET);
  writeProject(folder, {
    '1.md': NOTE,
    [ODD_NAME]: NOTE.replace('number: "1"', 'number: "2"'),
    '.env': SECRET,
  });
  preview = await startPreview(folder, 'editor://open?file={path}&line={line}');
});
afterAll(() => preview?.close());

/** Sends bytes and takes what comes until the server closes, or nothing more comes for a moment. */
function exchange(bytes: string, ends: boolean): Promise<string> {
  return new Promise((done) => {
    const socket = connect(preview.port, '127.0.0.1');
    let said = '';
    const end = (): void => {
      socket.destroy();
      done(said);
    };
    // An answer is there at once; of a request that does not end, or a stream of events, none or no more comes.
    socket.setTimeout(ends ? PATIENCE : 30, end);
    socket.on('data', (chunk: Buffer) => {
      said += chunk.toString('latin1');
      if (/^HTTP[\s\S]*\r\nContent-Type: text\/event-stream/.test(said)) end();
    });
    socket.on('error', end);
    socket.on('close', end);
    socket.write(bytes, 'latin1');
  });
}

const KINDS = [
  '',
  'list',
  'note',
  'paper',
  'update',
  'slips',
  'place',
  'spot',
  'source',
  'print',
  'asset',
  'events',
  '__proto__',
  'constructor',
];
const NAMES = [
  ...[
    '1.md',
    encodeURIComponent(ODD_NAME),
    '..',
    '%2e%2e',
    '..%2fsecret.txt',
    '%2e%2e%2fsecret.txt',
    '..%5csecret.txt',
    '%00',
    '1.md%00',
  ],
  ...[
    '%',
    '%zz',
    '%ed%a0%80',
    '%c0%ae%c0%ae%2f',
    '.env',
    'project.yaml',
    '%2fetc%2fpasswd',
    '',
    '__proto__',
    'toString',
    'a'.repeat(3000),
  ],
];
const QUERIES = [
  '',
  '?from=0',
  '?from=NaN',
  '?from=1e999',
  '?line=-1',
  '?line=x&column=',
  '?part=-1&at=x',
  '?block=trial&value=',
  '?block=__proto__',
  '?a=%',
  '?#x',
];
const WHOLE = [
  '*',
  '//',
  '//[',
  'http://',
  'http://[::1',
  'http://elsewhere.example/list',
  '/../secret.txt',
  '/./%2e%2e/%2e%2e/secret.txt',
  '?',
  '\\..\\secret.txt',
  'file:///etc/passwd',
  '/source/..%2fsecret.txt',
];

function drawPath(random: Random): string {
  if (random.chance(0.25)) return random.pick(WHOLE);
  return `/${random.pick(KINDS)}/${random.pick(NAMES)}${random.chance(0.2) ? `/${random.pick(NAMES)}` : ''}${random.pick(QUERIES)}`;
}

interface Request {
  readonly bytes: string;
  readonly ends: boolean;
  /** Whether it may be answered with anything of the project. */
  readonly isOurs: boolean;
}

/** What is usual, or in one case of eight something else. */
function usually<T>(random: Random, usual: T, others: readonly T[]): T {
  return random.chance(1 / 8) ? random.pick(others) : usual;
}

const METHODS = ['HEAD', 'POST', 'PUT', 'OPTIONS', 'TRACE', 'CONNECT', 'DELETE', 'get', 'X'];
const ODD_LINES = [
  'X: '.padEnd(40_000, 'x'),
  'Transfer-Encoding: chunked\r\nContent-Length: 5',
  'Content-Length: -1',
  'Upgrade: websocket\r\nConnection: Upgrade',
  'Expect: 100-continue',
  'X\u0000: 1',
  'Host: other.example',
  'Range: bytes=0-',
  'X-Preview-Token: x',
];

function drawRequest(random: Random): Request {
  const own = `127.0.0.1:${preview.port}`;
  const host = usually(random, own, [
    ...[
      `localhost:${preview.port}`,
      'rebound.example',
      `rebound.example:${preview.port}`,
      '127.0.0.1',
      `${own}.example`,
    ],
    ...[`${own}@x`, '', `0.0.0.0:${preview.port}`],
  ]);
  const origins = [`http://${own}`, 'null', 'https://elsewhere.example', `http://${own}.example`, ''];
  const origin = usually<string | undefined>(random, undefined, origins);
  const site = usually<string | undefined>(random, undefined, [
    'same-origin',
    'cross-site',
    'same-site',
    'x',
  ]);
  const method = usually(random, 'GET', METHODS);
  const odd = usually(random, '', ODD_LINES);
  const ends = random.chance(0.93);
  const lines = [
    `${method} ${drawPath(random)} HTTP/${usually(random, '1.1', ['1.0', '2.0', '9'])}`,
    `Host: ${host}`,
    ...(origin === undefined ? [] : [`Origin: ${origin}`]),
    ...(site === undefined ? [] : [`Sec-Fetch-Site: ${site}`, 'Sec-Fetch-Mode: no-cors']),
    ...(odd === '' ? [] : [odd]),
    'Connection: close',
  ];
  const isOurs =
    [own, `localhost:${preview.port}`].includes(host) &&
    (origin === undefined || origin === `http://${own}`) &&
    (site === undefined || site === 'same-origin');
  return { bytes: ends ? `${lines.join('\r\n')}\r\n\r\n` : lines.join('\r\n'), ends, isOurs };
}

/** Words that only stand in what is served of the project. */
const OF_PROJECT = /common-earth|earth_lead|Nobody in particular|data-session|page-revision/;

test('whatever is asked, nothing goes to others, and the preview goes on', async () => {
  await runCases('preview', 600, async (random, show) => {
    const { bytes, ends, isOurs } = drawRequest(random);
    show(bytes);
    const said = await exchange(bytes, ends);
    const status = /^HTTP\/1\.1 (\d{3})/.exec(said)?.[1];
    const became = status ?? 'closed';
    if (said.includes(SECRET)) return { became, fault: 'hands out what is not of the project' };
    if (!isOurs && OF_PROJECT.test(said)) return { became, fault: 'serves another site' };
    if (status?.startsWith('5')) return { became, fault: `fails: ${said.slice(-300)}` };
    if (/\bNaN\b|line=undefined/.test(said)) return { became, fault: 'says NaN' };
    // Of CONNECT no answer is due: the connection is closed.
    if (ends && status === undefined && !bytes.startsWith('CONNECT')) return { became, fault: 'no answer' };
    return { became, fault: undefined };
  });
  const page = await fetch(`${preview.address}/note/1.md`);
  expect([page.status, await page.text()]).toEqual([200, expect.stringContaining('1.md')]);
});

test('with a hundred streams of events, and files that go while they are served, it goes on', async () => {
  const streams = Array.from({ length: 100 }, () => {
    const socket = connect(preview.port, '127.0.0.1');
    socket.on('error', () => undefined);
    socket.write(`GET /events HTTP/1.1\r\nHost: 127.0.0.1:${preview.port}\r\n\r\n`);
    return socket;
  });
  rmSync(join(folder, ODD_NAME));
  rmSync(join(folder, 'project.yaml'));
  await preview.project.renew();
  for (const path of [
    '',
    'list',
    'note/1.md',
    'paper/1.md',
    'update/1.md',
    'source/1.md',
    `note/${encodeURIComponent(ODD_NAME)}`,
  ])
    expect((await fetch(`${preview.address}/${path}`)).status, path).toBeLessThan(500);
  writeProject(folder, { '1.md': NOTE });
  await preview.project.renew();
  expect((await fetch(`${preview.address}/paper/1.md`)).status).toBe(200);
  for (const socket of streams) socket.destroy();
});
