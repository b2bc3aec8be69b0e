import fc from 'fast-check';
import { expect, test } from 'vitest';
import { diffLines, wordDiff } from '../../src/review/diff-lines.ts';

const lines = fc.array(fc.constantFrom('a', 'b', 'c', 'd'), { maxLength: 30 });

test('either text can be had back from the difference', () => {
  fc.assert(
    fc.property(lines, lines, (before, after) => {
      const diff = diffLines(before, after);
      const side = (other: 'added' | 'removed') =>
        diff.filter(({ kind }) => kind !== other).map(({ line }) => line);
      expect(side('added')).toEqual(before);
      expect(side('removed')).toEqual(after);
      for (const { kind, line, at } of diff) expect((kind === 'removed' ? before : after)[at - 1]).toBe(line);
    }),
  );
});

test('no more is changed than must be', () => {
  const changed = (before: string, after: string) =>
    diffLines([...before], [...after]).filter(({ kind }) => kind !== 'same').length;
  // Longest common subsequence of ABCBDAB and BDCABA: 4 (Cormen, Leiserson, Rivest, Stein, Introduction to
  // Algorithms, 3rd ed., section 15.4), so that 3 + 2 lines change.
  expect(changed('ABCBDAB', 'BDCABA')).toBe(5);
  expect(changed('abc', 'abc')).toBe(0);
});

test('texts too large to be compared line by line still give a true difference', () => {
  const many = (word: string) => Array.from({ length: 5000 }, (_, i) => `${word} ${i}`);
  const diff = diffLines(many('old'), many('new'));
  expect(diff.filter(({ kind }) => kind === 'removed')).toHaveLength(5000);
  expect(diff.filter(({ kind }) => kind === 'added')).toHaveLength(5000);
});

test('a patch in words', () => {
  expect(wordDiff('1\n2\n3\n4\n5\n6', '1\n2\n3\n4\nfive\n6', 1)).toBe('...\n  4\n- 5\n+ five\n  6');
  expect(wordDiff('same', 'same')).toBe('');
});
