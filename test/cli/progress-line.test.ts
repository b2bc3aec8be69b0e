import { expect, test } from 'vitest';
import { ProgressLine } from '../../src/cli/progress-line.ts';

function trial(columns: number) {
  let now = 5_000;
  const written: string[] = [];
  const line = new ProgressLine(
    (text) => written.push(text),
    () => columns,
    () => now,
  );
  return {
    line,
    written,
    pass: (seconds: number) => {
      now += seconds * 1000;
    },
  };
}

const WIPE = '\r\u001b[2K';

test('what is done, and since when as soon as somebody may wonder', () => {
  const { line, written, pass } = trial(80);
  line.show('printing 1.md (1 of 2)');
  pass(41);
  line.show('printing 2.md (2 of 2)');
  pass(26);
  line.show('printing 2.md (2 of 2)');
  line.clear();
  line.clear();
  expect(written).toEqual([
    'printing 1.md (1 of 2)',
    `${WIPE}printing 2.md (2 of 2), 41 s`,
    `${WIPE}printing 2.md (2 of 2), 1 min 07 s`,
    WIPE,
  ]);
});

test('it never wraps, which could not be wiped', () => {
  const { line, written, pass } = trial(24);
  line.show('printing a-name-that-is-long.md (1 of 2)');
  pass(130);
  line.show('printing a-name-that-is-long.md (1 of 2)');
  line.clear();
  expect(written.map((text) => text.replace(WIPE, '').length)).toEqual([23, 23, 0]);
  expect(written[1]).toContain('..., 2 min 10 s');
});
