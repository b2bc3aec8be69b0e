import { expect, test } from 'vitest';
import { printAgain } from '../../src/print/print-again.ts';
import { digestBytes } from '../../src/print/print-record.ts';

/** Prints that come one after the other, each named by its content. */
function printer(...contents: string[]): (attempt: number) => Promise<{ pdf: Uint8Array; attempt: number }> {
  return async (attempt) => ({ pdf: Buffer.from(contents[attempt - 1]!), attempt });
}

const taken = async (expected: string | undefined, ...contents: string[]) => {
  const { print, agrees, prints, digest } = await printAgain(
    printer(...contents),
    expected === undefined ? undefined : digestBytes(expected),
  );
  const content = Buffer.from(print.pdf).toString();
  expect(digest).toBe(digestBytes(content));
  return { content, agrees, prints };
};

test('where nothing is expected the first print is taken', async () => {
  expect(await taken(undefined, 'a')).toEqual({ content: 'a', agrees: true, prints: 1 });
});

test('the first print that is as expected is taken', async () => {
  expect(await taken('a', 'a')).toEqual({ content: 'a', agrees: true, prints: 1 });
  expect(await taken('a', 'b', 'a')).toEqual({ content: 'a', agrees: true, prints: 2 });
  expect(await taken('a', 'b', 'c', 'a')).toEqual({ content: 'a', agrees: true, prints: 3 });
});

test('where none is, the print that came most often is taken, of equals the last, and it is said', async () => {
  expect(await taken('a', 'b', 'b', 'c')).toEqual({ content: 'b', agrees: false, prints: 3 });
  expect(await taken('a', 'c', 'b', 'b')).toEqual({ content: 'b', agrees: false, prints: 3 });
  expect(await taken('a', 'b', 'c', 'b')).toEqual({ content: 'b', agrees: false, prints: 3 });
  expect(await taken('a', 'b', 'c', 'd')).toEqual({ content: 'd', agrees: false, prints: 3 });
});
