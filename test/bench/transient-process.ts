import { isMainThread, parentPort, workerData } from 'node:worker_threads';
import { comparedNetworks } from '../../src/verification/surge-networks.ts';
import { runCompared, runStrokes } from './transient-runs.ts';

/** One network as a whole process (its number as argument, or none), or a share of the strokes as a thread. */
if (isMainThread) {
  const network = comparedNetworks[Number(process.argv[2])];
  const records = network === undefined ? [] : runCompared(network).records;
  process.stdout.write(`${records.map(({ peak }) => peak).join(' ')}\n`);
} else {
  const { first, count } = workerData as { first: number; count: number };
  // Once before, so that a thread is measured as it runs and not as it is compiled.
  runStrokes(0, 20);
  parentPort!.postMessage('ready');
  parentPort!.once('message', () => parentPort!.postMessage(runStrokes(first, count)));
}
