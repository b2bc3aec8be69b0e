import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { inflateSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { PACKER } from '../../src/pdf/packer.ts';
import { startPackingThread, workOrder } from '../../src/pdf/packing-thread.ts';
import { compileModule } from '../support/compile-module.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

/** Threads run compiled code. */
const COMPILED = join(temporaryFolder(), 'compiled');
mkdirSync(COMPILED);
await compileModule(COMPILED, 'pdf/packing-thread.ts', 'pdf/pack-pieces.ts');
const built: { startPackingThread: typeof startPackingThread } = await import(
  pathToFileURL(join(COMPILED, 'pdf/packing-thread.js')).href
);

/** Texts that pack well, bytes that do not (a linear congruential generator), and nothing at all. */
const PIECES = Array.from({ length: 60 }, (_, i) => {
  let state = i;
  const next = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state >>> 24;
  };
  if (i % 9 === 0) return new Uint8Array(0);
  if (i % 4 === 0) return Uint8Array.from({ length: 37 * i }, next);
  return Buffer.from(`${i} 0 Td <0001> Tj\n`.repeat(100 * i));
});

test.each([
  ['here', startPackingThread],
  ['by a thread', built.startPackingThread],
])('pieces packed %s hold what they held, in the bytes of those packed at once', async (_, start) => {
  const thread = start();
  try {
    const take = thread.pack(PIECES);
    const more = thread.pack(PIECES.slice(0, 9));
    // Time for the thread to take some.
    await new Promise((resolve) => setTimeout(resolve, 60));
    const packed = take();
    expect(packed.map((piece) => inflateSync(piece).toString('hex'))).toEqual(
      PIECES.map((piece) => Buffer.from(piece).toString('hex')),
    );
    expect(packed.map((piece) => [...piece])).toEqual(PACKER.pack(PIECES)().map((piece) => [...piece]));
    expect(take()).toBe(packed);
    expect(more()).toEqual(packed.slice(0, 9));
  } finally {
    thread.close();
  }
});

test('a thread leaves alone what another took, and what does not become shorter', () => {
  const shared = (length: number) => new Int32Array(new SharedArrayBuffer(4 * length));
  const text = Buffer.from('to and fro '.repeat(40));
  const order = {
    next: shared(1),
    lengths: shared(3),
    starts: [0, 440, 441, 881],
    bytes: new Uint8Array(881),
  };
  order.bytes.set(text);
  order.bytes.set(text, 441);
  Atomics.store(order.next, 0, 1);
  workOrder(order);
  expect([order.lengths[0], order.lengths[1]]).toEqual([0, -1]);
  expect(Buffer.from(order.bytes.subarray(0, 440)).equals(text)).toBe(true);
  expect(inflateSync(order.bytes.subarray(441, 441 + order.lengths[2]!)).equals(text)).toBe(true);
});
