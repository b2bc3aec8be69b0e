import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type JsonInParts, writeJson } from '../../src/evaluation/write-json.ts';

function written(value: JsonInParts): string {
  return [...writeJson(value)].join('\n');
}

test('whatever is written reads as JSON.stringify writes it', () => {
  fc.assert(
    fc.property(fc.jsonValue(), (value) => {
      expect(written(value as JsonInParts)).toBe(JSON.stringify(value, null, 2));
    }),
    { numRuns: 1000, seed: 18 },
  );
});

test('parts that are made when they are written stand where they would stand', () => {
  fc.assert(
    fc.property(fc.array(fc.jsonValue()), (items) => {
      const made = items.map((item) => () => item as never);
      expect(written({ of: 'three\nlines', rows: made })).toBe(
        JSON.stringify({ of: 'three\nlines', rows: items }, null, 2),
      );
    }),
    { numRuns: 500, seed: 19 },
  );
});

test('a long report goes out in lots, each made when the one before it has gone', () => {
  let made = 0;
  const rows = Array.from({ length: 4000 }, (_, row) => () => {
    made += 1;
    return { row, text: 'x'.repeat(100) };
  });
  const lots = writeJson({ rows });
  const first = lots.next().value as string;
  expect(first.length).toBeGreaterThan(60_000);
  expect(made).toBeLessThan(600);
  expect([first, ...lots].join('\n')).toBe(JSON.stringify({ rows: rows.map((make) => make()) }, null, 2));
});
