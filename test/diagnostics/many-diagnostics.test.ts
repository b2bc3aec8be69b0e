import { expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { nearestName } from '../../src/diagnostics/nearest-name.ts';
import { printDiagnostics } from '../../src/diagnostics/print-diagnostics.ts';

const LINE = 'key: x\n';

/** So many cautions on the first lines of a file, and so many errors below. */
function gather(cautions: number, errors: number): Collector {
  const collector = new Collector();
  for (let line = 1; line <= cautions + errors; line += 1) {
    const start = (line - 1) * LINE.length;
    const place = { file: '1.md', start, end: start + 1 };
    if (line <= cautions) collector.caution('comment-in-text', place, { comment: `#${line}` });
    else collector.error('duplicate-key', place, { key: `k${line}` });
  }
  return collector;
}

function print(collector: Collector): { lines: string[]; asked: number } {
  let asked = 0;
  const textOf = () => {
    asked += 1;
    return LINE.repeat(5000);
  };
  return {
    lines: printDiagnostics(collector.list(), { textOf, startOfPiece: () => undefined }).split('\n'),
    asked,
  };
}

const count = (lines: readonly string[], what: string): number =>
  lines.filter((line) => line.startsWith('1.md:') && line.includes(` ${what}: `)).length;

test('of very many the first are printed, errors before cautions, and the rest is counted', () => {
  const { lines, asked } = print(gather(300, 3000));
  expect([count(lines, 'error'), count(lines, 'caution')]).toEqual([200, 0]);
  expect(lines.at(-1)).toBe('2800 errors and 300 cautions more: correct these first');
  expect(asked).toBe(1);
  const few = print(gather(250, 3)).lines;
  expect([count(few, 'error'), count(few, 'caution')]).toEqual([3, 197]);
  expect(few.at(-1)).toBe('53 cautions more: correct these first');
  expect(print(gather(0, 201)).lines.at(-1)).toBe('1 error more: correct these first');
});

test('up to then all are printed, and nothing is counted', () => {
  const { lines } = print(gather(80, 120));
  expect([count(lines, 'error'), count(lines, 'caution')]).toEqual([120, 80]);
  expect(lines.at(-1)).not.toMatch(/more/);
});

test('a name is found among very many as among few', () => {
  const names = Array.from({ length: 6000 }, (_, i) => `feeder-${i}-lead`);
  expect(nearestName('feeder-5731-laed', names)).toBe('feeder-5731-lead');
  expect(nearestName('feeder-12-lead', names)).toBe('feeder-12-lead');
  expect(nearestName('transformer', names)).toBeUndefined();
});
