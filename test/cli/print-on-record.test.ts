import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, expect, test } from 'vitest';
import { type PrintOrder, printOnRecord } from '../../src/cli/print-on-record.ts';
import { digestBytes } from '../../src/print/print-record.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const folder = temporaryFolder();
const FILE = join(folder, '001.print.yaml');
const ORDER: PrintOrder = {
  folder,
  note: '001.md',
  browser: 'Browser/1',
  html: '<p>page</p>',
  request: {
    title: 'Trial',
    author: 'Nobody',
    subject: 'Trial',
    keywords: [],
    creator: 'trial',
    producer: 'trial',
    language: 'en',
    date: '2030-01-01',
    identity: '0'.repeat(64),
    headings: [],
    attachments: [
      {
        name: 'a.txt',
        bytes: Buffer.from('a'),
        mimeType: 'text/plain',
        description: '',
        relationship: 'Data',
      },
    ],
  },
};

/** Prints `content` on the record that lies there; what it says is told by code. */
async function print(content: string, order: PrintOrder = ORDER) {
  let prints = 0;
  const { record, cautions } = await printOnRecord(order, async () => {
    prints += 1;
    return { pdf: Buffer.from(content) };
  });
  return { record, told: cautions.list().map(({ code }) => code), prints };
}

beforeEach(async () => writeFileSync(FILE, (await print('sound')).record));

test('the record names the PDF', () => {
  expect(readFileSync(FILE, 'utf8')).toContain(`pdf_sha256: ${digestBytes('sound')}\n`);
});

test('the recorded print again: nothing is told', async () => {
  const { told, prints, record } = await print('sound');
  expect({ told, prints }).toEqual({ told: [], prints: 1 });
  expect(record).toBe(readFileSync(FILE, 'utf8'));
});

test('another print of the same input is told after three prints, and recorded', async () => {
  const { told, prints, record } = await print('other');
  expect({ told, prints }).toEqual({ told: ['print-differs'], prints: 3 });
  expect(record).toContain(digestBytes('other'));
});

test('with another page, browser, author or attachment there is nothing to compare', async () => {
  const [attachment] = ORDER.request.attachments!;
  const others: PrintOrder[] = [
    { ...ORDER, html: '<p>page </p>' },
    { ...ORDER, browser: 'Browser/2' },
    { ...ORDER, request: { ...ORDER.request, author: 'Somebody' } },
    {
      ...ORDER,
      request: { ...ORDER.request, attachments: [{ ...attachment!, bytes: Buffer.from('b') }] },
    },
  ];
  for (const order of others) expect(await print('other', order)).toMatchObject({ told: [], prints: 1 });
});

test('a record that is damaged is told', async () => {
  writeFileSync(FILE, '<<<<<<< one\n');
  expect(await print('sound')).toMatchObject({ told: ['print-record-damaged'], prints: 1 });
  writeFileSync(FILE, Buffer.from([0xff, 0xfe]));
  expect(await print('sound')).toMatchObject({ told: ['print-record-damaged'], prints: 1 });
});
