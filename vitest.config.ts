import { defineConfig } from 'vitest/config';

const report = process.env.SURGENOTE_TEST_REPORT;

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    globalSetup: ['test/support/own-temporary-folder.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // The runner leaves one core of two idle by itself; the tests of whole commands mostly wait for another process.
    maxWorkers: 2,
    // Files of one worker share its modules: loading the libraries anew for each took longer than the tests. A worker is a
    // process, whose folder and environment a test of a command may set.
    pool: 'forks',
    isolate: false,
    // The file that CI counts from, beside the usual output.
    ...(report ? { reporters: ['default', 'json'], outputFile: { json: report } } : {}),
  },
});
