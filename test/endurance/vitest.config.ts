import { configDefaults, defineConfig } from 'vitest/config';
import suite from '../../vitest.config.ts';
import { longTests } from '../support/long-tests.ts';

// The long run, `npm run endurance`: generated and damaged input by the thousand, and what the suite has some of, whole.
export default defineConfig({
  ...suite,
  test: {
    ...suite.test,
    root: new URL('../..', import.meta.url).pathname,
    include: longTests(),
    exclude: configDefaults.exclude,
    env: { SURGENOTE_AT_LENGTH: '1' },
    // A case that does not end is found by `HangGuard`, which a timer of the runner could not do: it waits in the same thread.
    testTimeout: 1_800_000,
    hookTimeout: 1_800_000,
  },
});
