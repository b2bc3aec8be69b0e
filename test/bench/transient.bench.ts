import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bench, describe } from 'vitest';
import { bundle, bundleThreads } from './bundle.ts';

/**
 * Run with `npx vitest bench test/bench/transient.bench.ts --run`. Reports, and never fails on a time. What is measured runs as a process of
 * its own: here every name that a module takes from another is looked up at each use, which doubles the time of a step.
 */
async function report(): Promise<void> {
  const built = mkdtempSync(join(tmpdir(), 'surge-threads-'));
  try {
    await bundleThreads(built);
    const program = await bundle('measure-transient');
    const { status } = spawnSync(process.execPath, [program, built], { stdio: 'inherit' });
    if (status !== 0) throw new Error(`the measurement ended with status ${status}`);
  } finally {
    rmSync(built, { recursive: true });
  }
}

describe('surge solver', () => {
  bench('report', report, { iterations: 1, time: 0, warmupIterations: 0, warmupTime: 0 });
});
