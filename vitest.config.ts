import { defineConfig } from 'vitest/config';

const report = process.env.SURGENOTE_TEST_REPORT;

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // One more than the usual machine has cores: the tests of whole commands wait for other processes.
    maxWorkers: 3,
    // Files of one worker share its modules: loading the libraries anew for each took longer than the tests. A worker is a
    // process, whose folder and environment a test of a command may set.
    pool: 'forks',
    isolate: false,
    // The file that CI counts from, beside the usual output.
    ...(report ? { reporters: ['default', 'json'], outputFile: { json: report } } : {}),
  },
});
