import { defineConfig } from 'vitest/config';

const report = process.env.SURGENOTE_TEST_REPORT;

// The long tests on generated and damaged input, apart from the suite: `npm run endurance`.
export default defineConfig({
  test: {
    root: new URL('../..', import.meta.url).pathname,
    include: ['test/endurance/**/*.endurance.ts'],
    globalSetup: ['test/support/own-temporary-folder.ts'],
    // A case that does not end is found by `HangGuard`, which a timer of the runner could not do: it waits in the same thread.
    testTimeout: 1_800_000,
    hookTimeout: 120_000,
    maxWorkers: 2,
    pool: 'forks',
    ...(report ? { reporters: ['default', 'json'], outputFile: { json: report } } : {}),
  },
});
