import type { Readable, Writable } from 'node:stream';
import type { ConnectionTransport } from 'puppeteer-core';

const END_OF_MESSAGE = 0;
/** The longest messages are pieces of a PDF, of some megabytes. */
const MOST_BYTES = 64 * 1024 * 1024;
/** Messages that wait to be read, before more are taken from the pipe. */
const MOST_WAITING = 256;

/**
 * Carries the browser's protocol over two pipes, one message after the other, each ended by a zero byte, as
 * `--remote-debugging-pipe` has it. `onFault` learns once, in words, that what comes is not that protocol; nothing is read then.
 */
export function connectPipes(
  toBrowser: Writable,
  fromBrowser: Readable,
  onFault: (reason: string) => void,
): ConnectionTransport {
  let parts: Buffer[] = [];
  let size = 0;
  let waiting = 0;
  let sound = true;
  const transport: ConnectionTransport = {
    send: (message) => {
      toBrowser.write(`${message}\0`);
    },
    close: () => {
      toBrowser.end();
      fromBrowser.destroy();
    },
  };
  const fail = (reason: string): void => {
    if (!sound) return;
    sound = false;
    parts = [];
    fromBrowser.destroy();
    onFault(reason);
  };
  const deliver = (message: string): void => {
    waiting -= 1;
    if (waiting === 0) fromBrowser.resume();
    if (!sound) return;
    if (!isObject(message)) {
      fail('what it says is not the protocol of a browser');
      return;
    }
    // The driver works on a message after this call returns; what it cannot use must not end the process.
    const work: unknown = transport.onmessage?.(message);
    if (work instanceof Promise) work.catch(() => fail('what it says is not the protocol of this browser'));
  };
  const queue = (bytes: Buffer): void => {
    waiting += 1;
    if (waiting > MOST_WAITING) fromBrowser.pause();
    // Each message in a turn of its own: what one sets off must be done before the next is read.
    setImmediate(() => deliver(bytes.toString('utf8')));
  };
  fromBrowser.on('data', (chunk: Buffer) => {
    let start = 0;
    for (let end = chunk.indexOf(END_OF_MESSAGE); end !== -1; end = chunk.indexOf(END_OF_MESSAGE, start)) {
      if (!sound) return;
      queue(Buffer.concat([...parts, chunk.subarray(start, end)]));
      parts = [];
      size = 0;
      start = end + 1;
    }
    parts.push(chunk.subarray(start));
    size += chunk.length - start;
    if (size > MOST_BYTES) fail(`it sent more than ${MOST_BYTES} bytes without the end of a message`);
  });
  fromBrowser.on('close', () => transport.onclose?.());
  // The end of the browser shows itself by `close`; a write that comes too late adds nothing to that.
  fromBrowser.on('error', () => {});
  toBrowser.on('error', () => {});
  return transport;
}

function isObject(text: string): boolean {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null;
  } catch {
    return false;
  }
}
