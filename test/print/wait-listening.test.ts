import { expect, test } from 'vitest';
import { waitListening } from '../../src/print/wait-listening.ts';

test('time in which the process could hear nothing does not count', async () => {
  const late = waitListening(1000).then(() => 'late');
  const heard = new Promise((done) => setImmediate(done, 'heard'));
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 1200);
  expect(await Promise.race([late, heard])).toBe('heard');
  expect(await late).toBe('late');
});
