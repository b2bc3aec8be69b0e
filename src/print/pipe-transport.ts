import type { Readable, Writable } from 'node:stream';
import type { ConnectionTransport } from 'puppeteer-core';

const END_OF_MESSAGE = 0;

/**
 * Carries the browser's protocol over two pipes, one message after the other, each ended by a zero byte, as
 * `--remote-debugging-pipe` has it.
 */
export function connectPipes(toBrowser: Writable, fromBrowser: Readable): ConnectionTransport {
  let parts: Buffer[] = [];
  const transport: ConnectionTransport = {
    send: (message) => {
      toBrowser.write(`${message}\0`);
    },
    close: () => {
      toBrowser.end();
      fromBrowser.destroy();
    },
  };
  fromBrowser.on('data', (chunk: Buffer) => {
    let start = 0;
    for (let end = chunk.indexOf(END_OF_MESSAGE); end !== -1; end = chunk.indexOf(END_OF_MESSAGE, start)) {
      const message = Buffer.concat([...parts, chunk.subarray(start, end)]).toString('utf8');
      parts = [];
      start = end + 1;
      // Each message in a turn of its own: what one sets off must be done before the next is read.
      setImmediate(() => transport.onmessage?.(message));
    }
    parts.push(chunk.subarray(start));
  });
  fromBrowser.on('close', () => transport.onclose?.());
  // The end of the browser shows itself by `close`; a write that comes too late adds nothing to that.
  fromBrowser.on('error', () => {});
  toBrowser.on('error', () => {});
  return transport;
}
