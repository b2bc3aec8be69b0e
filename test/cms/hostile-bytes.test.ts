import fc from 'fast-check';
import { beforeAll, expect, test } from 'vitest';
import { refuseLongElements } from '../../src/cms/ber-length.ts';
import { trials } from '../support/at-length.ts';
import { CMS_READERS, makeCmsSamples } from '../support/cms-samples.ts';
import { describeWithTools } from '../support/outside-tools.ts';

describeWithTools(['openssl'], 'bytes that came from anybody', () => {
  let samples: readonly Buffer[] = [];

  beforeAll(() => {
    samples = makeCmsSamples().bytes;
  });

  /** Whatever they are, a reader returns or says what is wrong. */
  function read(bytes: Uint8Array): void {
    for (const reader of Object.values(CMS_READERS)) {
      try {
        reader(bytes);
      } catch (error) {
        expect(error).toBeInstanceOf(Error);
        expect((error as Error).message).not.toBe('');
      }
    }
  }

  test('changed in places', () => {
    const places = fc.array(fc.tuple(fc.nat(), fc.nat(255)), { minLength: 1, maxLength: 4 });
    fc.assert(
      fc.property(fc.nat(3), places, (index, changes) => {
        const bytes = Buffer.from(samples[index]!);
        for (const [at, value] of changes) bytes[at % bytes.length] = value;
        read(bytes);
      }),
      { numRuns: trials(100, 400) },
    );
  });

  test('cut, doubled, or something else', () => {
    fc.assert(
      fc.property(fc.nat(3), fc.nat(), fc.uint8Array({ maxLength: 60 }), (index, at, more) => {
        const sample = samples[index]!;
        read(sample.subarray(0, at % sample.length));
        read(Buffer.concat([sample, more]));
        read(more);
      }),
      { numRuns: trials(30, 100) },
    );
  });

  test.each([
    ['sequences without end', (n: number) => Buffer.alloc(2 * n, Buffer.from([0x30, 0x80]))],
    ['sets without end', (n: number) => Buffer.alloc(2 * n, Buffer.from([0x31, 0x80]))],
    ['tagged elements without end', (n: number) => Buffer.alloc(2 * n, Buffer.from([0xa0, 0x80]))],
    ['octet strings of octet strings', (n: number) => Buffer.alloc(2 * n, Buffer.from([0x24, 0x80]))],
    ['lengths beyond the end', () => Buffer.from('3084ffffffff0201', 'hex')],
    [
      'one element of 16 MB',
      () => Buffer.concat([Buffer.from('308400ffffff', 'hex'), Buffer.alloc(0xffffff)]),
    ],
  ])('%s', (_, make) => read(make(100_000)));
});

test('a truth value of many bytes is refused before the library copies it once for each', () => {
  const long = (tag: number, length: number): Buffer =>
    Buffer.concat([
      Buffer.from([0x30, 0x80, tag, 0x83]),
      Buffer.from(length.toString(16).padStart(6, '0'), 'hex'),
      Buffer.alloc(length, 0xff),
    ]);
  expect(() => refuseLongElements(long(0x01, 1_000_000))).toThrow('1000000 bytes');
  expect(() => refuseLongElements(long(0x81, 9000))).toThrow('9000 bytes');
  expect(() => refuseLongElements(long(0x01, 2))).toThrow('2 bytes');
  // Of bytes and numbers there may be as many as there are.
  for (const tag of [0x02, 0x04, 0x24]) expect(() => refuseLongElements(long(tag, 1_000_000))).not.toThrow();
  expect(() => refuseLongElements(Buffer.from('3006010100040101', 'hex'))).not.toThrow();
});
