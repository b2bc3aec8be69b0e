import { dirname, resolve } from 'node:path';
import { configDefaults, defineConfig, type Plugin } from 'vitest/config';
import { AT_LENGTH } from './test/support/at-length.ts';
import { longTests, onlyAtLength } from './test/support/long-tests.ts';
import { LongestFirst } from './test/support/longest-first.ts';
import { PATIENCE } from './test/support/patience.ts';

/** Where the long run follows, as in CI, what it works whole is left to it. */
const leftToTheLongRun = process.env.SURGENOTE_LONG_RUN_FOLLOWS ? longTests() : onlyAtLength();
/** The long run, `npm run endurance`: generated and damaged input by the thousand, and what the suite has some of, whole. */
const files = AT_LENGTH
  ? { include: longTests() }
  : { include: ['test/**/*.test.ts'], exclude: [...configDefaults.exclude, ...leftToTheLongRun] };
/** In the long run a case that does not end is found by `HangGuard`, which a timer of the runner could not do: it waits in the same thread. */
const longest = AT_LENGTH ? 1_800_000 : PATIENCE;
const report = process.env.SURGENOTE_TEST_REPORT;
const here = (path: string): string => resolve(import.meta.dirname, path);

/** Commands that run in a worker print in the browser of that worker. */
const oneBrowserForEachWorker: Plugin = {
  name: 'one-browser-for-each-worker',
  enforce: 'pre',
  resolveId: (source, importer) =>
    importer?.startsWith(here('src/cli')) &&
    resolve(dirname(importer), source) === here('src/print/print-document.ts')
      ? here('test/support/kept-printer.ts')
      : undefined,
};

export default defineConfig({
  plugins: [oneBrowserForEachWorker],
  test: {
    ...files,
    globalSetup: ['test/support/own-temporary-folder.ts'],
    setupFiles: ['test/support/stated-seed.ts'],
    testTimeout: longest,
    hookTimeout: longest,
    expect: { poll: { timeout: PATIENCE } },
    // The runner leaves one core of two idle by itself; the tests of whole commands mostly wait for another process.
    maxWorkers: 2,
    // Files of one worker share its modules: loading the libraries anew for each took longer than the tests. A worker is a
    // process, whose folder and environment a test of a command may set.
    pool: 'forks',
    isolate: false,
    // Pages of some megabytes come and go as texts: collecting them took a quarter of the time of tests that print.
    execArgv: ['--max-semi-space-size=64'],
    sequence: { sequencer: LongestFirst },
    // What the runner makes of the sources is kept in node_modules, by their content and that of this file, for the next run, be it the long one.
    experimental: { fsModuleCache: true },
    // The file that CI counts from, beside the usual output.
    ...(report ? { reporters: ['default', 'json'], outputFile: { json: report } } : {}),
  },
});
