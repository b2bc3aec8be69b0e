import { spawnSync } from 'node:child_process';
import { resolve } from 'node:path';
import { bench, describe } from 'vitest';
import { bundle } from './bundle.ts';

/**
 * Evaluation of 1 000 blocks and 10 000 rows. Run with `npx vitest bench test/bench/evaluate.bench.ts --run`, after `npm run build`.
 * Reports processor time, and never fails on a time. It runs bundled, as the program does: as vitest transforms it, it takes longer.
 */
const PROGRAM = resolve(import.meta.dirname, '../../dist/cli/main.js');

async function report(): Promise<void> {
  spawnSync(process.execPath, [await bundle('measure-evaluation'), PROGRAM], { stdio: 'inherit' });
}

describe('evaluation', () => {
  bench('report', report, { iterations: 1, time: 0, warmupIterations: 0, warmupTime: 0 });
});
