import { crc32, deflateSync } from 'node:zlib';
import type { Browser, Page } from 'puppeteer-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { judgePicture } from '../../src/files/judge-picture.ts';
import { jpegOf, pngOf } from '../files/pictures.ts';
import { openBrowser } from '../preview/open-browser.ts';
import type { Random } from './random.ts';
import { runCases } from './run-cases.ts';

// PNG and JPEG files whose heads say something else than is usual: what is judged sound, the browser shows.

let opened: { readonly browser: Browser; close(): Promise<void> };
let page: Page;
beforeAll(async () => {
  opened = await openBrowser();
  page = await opened.browser.newPage();
});
afterAll(() => opened?.close());

function chunk(kind: string, data: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(kind, 'latin1'), data]);
  const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  sum.writeUInt32BE(crc32(named));
  return Buffer.concat([length, named, sum]);
}

/** A PNG with any bits, colours and rows, and chunks that are there or not, in some order. */
function drawPng(random: Random): Buffer {
  const head = Buffer.alloc(13);
  const [width, height] = [random.between(1, 20), random.between(1, 20)];
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  const usual = random.pick([
    [8, 0, 1],
    [16, 0, 1],
    [1, 0, 1],
    [8, 2, 3],
    [16, 2, 3],
    [8, 3, 1],
    [4, 3, 1],
    [8, 4, 2],
    [8, 6, 4],
  ] as const);
  const [bits, colour, samples] = random.chance(0.8)
    ? usual
    : [random.pick([1, 2, 3, 4, 8, 16, 32]), random.between(0, 7), random.pick([1, 2, 3, 4])];
  head[8] = bits;
  head[9] = colour;
  for (const at of [10, 11, 12]) if (random.chance(0.04)) head[at] = random.between(0, 3);
  const row = Math.ceil((width * bits * samples) / 8);
  const rows = height + (random.chance(0.15) ? random.pick([-1, 1, 5]) : 0);
  const plain = Buffer.concat(
    Array.from({ length: Math.max(0, rows) }, () =>
      Buffer.concat([
        Buffer.from([random.chance(0.02) ? 9 : random.between(0, 4)]),
        Buffer.alloc(row, random.pick([0, 1, 85])),
      ]),
    ),
  );
  const packed = deflateSync(plain);
  const half = random.between(0, packed.length);
  const data = random.pick([[packed], [packed], [packed.subarray(0, half), packed.subarray(half)]]);
  const parts = [
    chunk('IHDR', head),
    ...(colour === 3 || random.chance(0.1)
      ? [chunk('PLTE', Buffer.alloc(random.pick([3, 6, 48, 768, 768, 768, 4, 0, 771]), 90))]
      : []),
    ...(random.chance(0.2) ? [chunk('tRNS', Buffer.alloc(random.pick([1, 2, 6, 256, 300])))] : []),
    ...(random.chance(0.1)
      ? [chunk('gAMA', Buffer.from(random.pick(['00000000', 'ffffffff', '0000b18f', '00']), 'hex'))]
      : []),
    ...(random.chance(0.1)
      ? [
          chunk(
            'iCCP',
            Buffer.concat([Buffer.from('x\0\0'), deflateSync(Buffer.alloc(random.pick([10, 8_000_000])))]),
          ),
        ]
      : []),
    ...(random.chance(0.06) ? [chunk('acTL', Buffer.from('0000000200000000', 'hex'))] : []),
    ...data.map((one) => chunk('IDAT', one)),
    chunk('IEND', Buffer.alloc(0)),
  ];
  if (random.chance(0.15)) parts.splice(random.below(parts.length), 1);
  if (random.chance(0.15)) parts.splice(random.below(parts.length), 0, random.pick(parts));
  if (random.chance(0.05)) parts.push(Buffer.alloc(30, 7));
  return Buffer.concat([pngOf().subarray(0, 8), ...parts]);
}

/** A JPEG with one to three bytes of its frame, or a segment, other than they were. */
function drawJpeg(random: Random): Buffer {
  let jpeg = Buffer.from(jpegOf(random.between(1, 40), random.between(1, 40)));
  const frame = jpeg.indexOf(Buffer.from([0xff, 0xc0]));
  for (let i = random.between(1, 2); i > 0; i -= 1) {
    const at = frame + random.pick([1, 4, 5, 6, 7, 8, 9, 11, 11, 12, 14, 14, 17, 18]);
    jpeg[at] = random.pick([0, 1, 2, 3, 8, 12, 0x11, 0x12, 0x21, 0x22, 0x41, 0x44, 0x55, 0xc0, 0xc1]);
  }
  if (random.chance(0.2)) {
    const app14 = Buffer.from([
      0xff,
      0xee,
      0,
      14,
      ...Buffer.from('Adobe'),
      0,
      100,
      0,
      0,
      0,
      0,
      random.between(0, 3),
    ]);
    jpeg = Buffer.concat([jpeg.subarray(0, 2), app14, jpeg.subarray(2)]);
  }
  if (random.chance(0.1)) jpeg = Buffer.concat([jpeg, random.pick([Buffer.alloc(99), jpegOf()])]);
  return jpeg;
}

/** A picture of the browser, of which the types of the tests know nothing. */
interface Shown {
  src: string;
  readonly naturalWidth: number;
  readonly naturalHeight: number;
  decode(): Promise<void>;
}

/** Whether the browser shows a picture, as it says itself. */
function isShown(mime: string, bytes: Buffer): Promise<boolean> {
  const address = `data:${mime};base64,${bytes.toString('base64')}`;
  return page.evaluate(async (src) => {
    const { Image } = globalThis as unknown as { readonly Image: new () => Shown };
    const image = new Image();
    image.src = src;
    return image.decode().then(
      () => image.naturalWidth > 0 && image.naturalHeight > 0,
      () => false,
    );
  }, address);
}

test('what is judged sound, the browser shows', () =>
  runCases('pictures', 250, async (random, show) => {
    const isPng = random.chance(0.5);
    const bytes = isPng ? drawPng(random) : drawJpeg(random);
    show(bytes);
    const judged = judgePicture(bytes);
    if ('fault' in judged) return { became: 'refused', fault: undefined };
    return {
      became: 'sound',
      fault: (await isShown(judged.mime, bytes))
        ? undefined
        : `judged sound, and not shown: ${bytes.toString('hex').slice(0, 400)}`,
    };
  }));

test('the pictures of the trials are shown as they are', async () => {
  expect([await isShown('image/png', pngOf()), await isShown('image/jpeg', jpegOf())]).toEqual([true, true]);
});
