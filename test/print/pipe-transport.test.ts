import { PassThrough } from 'node:stream';
import { setTimeout as pause } from 'node:timers/promises';
import { expect, test } from 'vitest';
import { connectPipes } from '../../src/print/pipe-transport.ts';

function connect() {
  const [to, from] = [new PassThrough(), new PassThrough()];
  const messages: string[] = [];
  const faults: string[] = [];
  const transport = connectPipes(to, from, (reason) => faults.push(reason));
  transport.onmessage = (message) => messages.push(message);
  return { to, from, messages, faults, transport };
}

test('messages, wherever the pipe cuts them', async () => {
  const { to, from, messages, faults, transport } = connect();
  const text = Array.from({ length: 600 }, (_, id) => `{"id":${id},"of":"weir µ"}\0`).join('');
  const bytes = Buffer.from(text);
  for (let at = 0; at < bytes.length; at += 997) from.write(bytes.subarray(at, at + 997));
  await expect.poll(() => messages).toHaveLength(600);
  expect(messages[431]).toBe('{"id":431,"of":"weir µ"}');
  expect(faults).toEqual([]);
  transport.send('{"id":1}');
  expect(to.read().toString()).toBe('{"id":1}\0');
});

test.each([
  ['empty messages', Buffer.alloc(100_000)],
  ['text', Buffer.from('a browser says hello\0')],
  ['a number', Buffer.from('{"id":1}\0 7\0{"id":2}\0')],
])('%s: told once, and nothing more is read', async (_, bytes) => {
  const { from, messages, faults } = connect();
  from.write(bytes);
  await expect.poll(() => faults.length).toBeGreaterThan(0);
  expect(faults).toEqual(['what it says is not the protocol of a browser']);
  expect(from.destroyed).toBe(true);
  expect(messages.length).toBeLessThanOrEqual(1);
});

test('a message that the driver cannot use is told, and ends nothing', async () => {
  const { from, faults, transport } = connect();
  transport.onmessage = (async () => {
    throw new Error('no such session');
  }) as (message: string) => void;
  from.write('{"id":3}\0');
  await expect.poll(() => faults.length).toBeGreaterThan(0);
  expect(faults).toEqual(['what it says is not the protocol of this browser']);
});

test('a message without an end is not kept for ever', async () => {
  const { from, faults } = connect();
  const piece = Buffer.alloc(5_000_000, 'x');
  for (let sent = 0; sent < 14 && !from.destroyed; sent += 1) {
    from.write(piece);
    await pause(5);
  }
  await expect.poll(() => faults.length).toBeGreaterThan(0);
  expect(faults).toEqual(['it sent more than 67108864 bytes without the end of a message']);
});

test('more messages than are read at once: the pipe waits', async () => {
  const { from, messages } = connect();
  from.write('{}\0'.repeat(5000));
  await pause(1);
  expect(from.isPaused() || messages.length === 5000).toBe(true);
  await expect.poll(() => messages.length).toBe(5000);
  await expect.poll(() => from.isPaused()).toBe(false);
});
