import { Worker } from 'node:worker_threads';
import type { PieceOrder, PieceThread } from './work-pieces.ts';

/** A thread runs the built program, of whose files it is one. */
const WORKER = new URL('./work-pieces.js', import.meta.url);

/** Milliseconds for which a thread is kept without work: its start and its first pieces, while V8 compiles, take some 0.15 s. */
const IDLE = 30_000;

interface KeptThread {
  readonly worker: Worker;
  readonly orders: Int32Array;
}

/** Threads that have started and not ended, for one task after the other. */
const kept = new Set<KeptThread>();

/** Has so many threads take part. Those that were kept come first; none keeps the process from ending. */
export function askThreads(count: number, order: PieceOrder): void {
  while (kept.size < count) kept.add(startThread());
  for (const { worker, orders } of [...kept].slice(0, count)) {
    worker.postMessage(order);
    Atomics.add(orders, 0, 1);
    Atomics.notify(orders, 0);
  }
}

function startThread(): KeptThread {
  const orders = new Int32Array(new SharedArrayBuffer(4));
  const data: PieceThread = { orders, idle: IDLE };
  const thread: KeptThread = { worker: new Worker(WORKER, { workerData: data }), orders };
  // What fails there is worked again here, and fails here where it must.
  thread.worker.on('error', () => undefined);
  thread.worker.on('exit', () => kept.delete(thread));
  thread.worker.unref();
  return thread;
}
