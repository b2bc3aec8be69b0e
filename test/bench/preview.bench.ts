import { bench, describe } from 'vitest';
import { reportRow } from './bench-row.ts';
import { measureAll, type SaveTimes } from './preview-saves.ts';

/**
 * From a save to the renewed page, as the preview does it, without the browser, in processor time. Run with `npx vitest bench
 * test/bench/preview.bench.ts --run`. Reports, and never fails on a time.
 */
describe('preview: one given saved', () => {
  bench(
    'on the longest note of the examples, and on 1 000 blocks',
    async () => {
      for (const times of await measureAll()) {
        console.log(wordTimes(times));
        const median = times.saves.toSorted((a, b) => a - b)[times.saves.length >> 1]!;
        const measured = `${median.toFixed(0)} ms of processor time`;
        reportRow({ what: `preview: one given saved, ${times.what}`, measured });
      }
    },
    { iterations: 1, time: 0, warmupIterations: 0 },
  );
});

function wordTimes({ what, opened, saves, computed, parts }: SaveTimes): string {
  const sorted = saves.toSorted((a, b) => a - b).map(Math.round);
  const counts = [...computed].map(([query, count]) => `${query} ${count}`).join(', ');
  return `${what}: opened in ${Math.round(opened)} ms of processor time; saved and renewed in ${sorted[0]} to ${sorted.at(-1)} ms, median ${sorted[sorted.length >> 1]} ms; ${parts} parts of the page; computed: ${counts}`;
}
