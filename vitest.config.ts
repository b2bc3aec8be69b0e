import { defineConfig } from 'vitest/config';

const report = process.env.SURGENOTE_TEST_REPORT;

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // The file that CI counts from, beside the usual output.
    ...(report ? { reporters: ['default', 'json'], outputFile: { json: report } } : {}),
  },
});
