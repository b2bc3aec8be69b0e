import type { Spread } from '../engine/definition/piece-task.ts';
import { askThreads } from './kept-threads.ts';
import {
  countDone,
  FAILED,
  OPEN,
  type SharedPieces,
  sharePieces,
  workPiece,
  workPieces,
} from './shared-pieces.ts';

export interface ThreadOptions {
  /** This one included. */
  readonly threads: number;
  /** Told from time to time how many pieces are done. */
  readonly progress?: ((done: number, pieces: number) => void) | undefined;
}

/** Fewer pieces than that for each thread are done here before another has started. */
const LEAST_PIECES = 32;

/** So many pieces are worked between two reports. */
const REPORT_EVERY = 8;

/** After so many milliseconds the piece of a thread that no longer answers is worked here. */
const PATIENCE = 30_000;

/** The sources themselves, as tests run them, stay in one thread. */
const IS_BUILT = !import.meta.url.endsWith('.ts');

/**
 * Spreads pieces over threads, this thread working too. Whoever works a piece, its number goes to its own place: the same
 * results, bit by bit, whatever the number of threads.
 */
export function spreadOverThreads({ threads, progress }: ThreadOptions): Spread {
  return (task, input, pieces) => {
    const shared = sharePieces(pieces);
    const helpers = IS_BUILT ? Math.min(threads, Math.floor(pieces / LEAST_PIECES)) - 1 : 0;
    if (helpers > 0) askThreads(helpers, { task: task.name, input, shared });
    const work = (index: number): number => task.work(input, index);
    let worked = 0;
    workPieces(shared, work, () => {
      if (++worked % REPORT_EVERY === 0) progress?.(countDone(shared), pieces);
    });
    awaitPieces(shared, work);
    progress?.(countDone(shared), pieces);
    return shared.results.slice();
  };
}

function awaitPieces(shared: SharedPieces, work: (index: number) => number): void {
  const { states } = shared;
  for (const piece of states.keys()) {
    if (Atomics.load(states, piece) === OPEN) Atomics.wait(states, piece, OPEN, PATIENCE);
    const state = Atomics.load(states, piece);
    if (state === OPEN || state === FAILED) workPiece(shared, piece, work);
  }
}
