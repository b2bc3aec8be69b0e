import { Worker } from 'node:worker_threads';
import type { Spread } from '../engine/definition/piece-task.ts';
import {
  CHUNK,
  countDone,
  FAILED,
  OPEN,
  type SharedPieces,
  sharePieces,
  workChunk,
  workChunks,
} from './shared-pieces.ts';
import type { PieceOrder } from './work-pieces.ts';

export interface ThreadOptions {
  /** This one included. */
  readonly threads: number;
  /** Told from time to time how many pieces are done. */
  readonly progress?: ((done: number, pieces: number) => void) | undefined;
}

/** A thread takes some 0.1 s to start: fewer chunks than that for each are worked here. */
const LEAST_CHUNKS = 4;

/** After so many milliseconds the chunk of a thread that no longer answers is worked here. */
const PATIENCE = 30_000;

/** A thread runs the built program, of whose files it is one; the sources themselves, as tests run them, stay in one thread. */
const WORKER = new URL('./work-pieces.js', import.meta.url);
const IS_BUILT = !import.meta.url.endsWith('.ts');

/**
 * Spreads pieces over threads in chunks of fixed size, this thread working too. Whoever works a piece, its number goes
 * to its own place: the same results, bit by bit, whatever the number of threads.
 */
export function spreadOverThreads({ threads, progress }: ThreadOptions): Spread {
  return (task, input, pieces) => {
    const shared = sharePieces(pieces);
    const helpers = IS_BUILT ? Math.min(threads, Math.floor(shared.states.length / LEAST_CHUNKS)) - 1 : 0;
    const workers = Array.from({ length: Math.max(0, helpers) }, () =>
      startWorker({ task: task.name, input, shared }),
    );
    const work = (index: number): number => task.work(input, index);
    const report = (): void => progress?.(Math.min(pieces, CHUNK * countDone(shared)), pieces);
    try {
      workChunks(shared, work, report);
      awaitChunks(shared, work, report);
    } finally {
      for (const worker of workers) void worker.terminate();
    }
    return shared.results.slice();
  };
}

function startWorker(order: PieceOrder): Worker {
  const worker = new Worker(WORKER, { workerData: order });
  // What fails there is worked again here, and fails here where it must.
  worker.on('error', () => undefined);
  worker.unref();
  return worker;
}

function awaitChunks(shared: SharedPieces, work: (index: number) => number, report: () => void): void {
  const { states } = shared;
  for (const chunk of states.keys()) {
    if (Atomics.load(states, chunk) === OPEN) Atomics.wait(states, chunk, OPEN, PATIENCE);
    const state = Atomics.load(states, chunk);
    if (state === OPEN || state === FAILED) workChunk(shared, chunk, work);
    report();
  }
}
