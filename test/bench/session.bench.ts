import { spawnSync } from 'node:child_process';
import { bench, describe } from 'vitest';
import { bundle } from './bundle.ts';

/**
 * A note of 1 000 blocks, all of it against one edit. Run with `npx vitest bench test/bench/session.bench.ts --run`. Reports processor time, and
 * never fails on a time. It runs bundled, as the program does: as vitest transforms it, it takes several times as long.
 */
async function report(): Promise<void> {
  const { status } = spawnSync(process.execPath, [await bundle('measure-session')], { stdio: 'inherit' });
  if (status !== 0) throw new Error(`the measurement ended with status ${status}`);
}

describe('session', () => {
  bench('report', report, { iterations: 1, time: 0, warmupIterations: 0, warmupTime: 0 });
});
