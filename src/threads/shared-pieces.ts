/** So many pieces are taken at once, whatever the number of threads. */
export const CHUNK = 8;

/** Memory that the threads of one task share. Each piece has its place, so that it matters to no result who works it. */
export interface SharedPieces {
  /** The number of the next chunk that nobody has taken. */
  readonly next: Int32Array;
  /** For each chunk whether it is done. */
  readonly states: Int32Array;
  readonly results: Float64Array;
}

export const OPEN = 0;
const DONE = 1;
export const FAILED = 2;

export function sharePieces(pieces: number): SharedPieces {
  const chunks = Math.ceil(pieces / CHUNK);
  return {
    next: new Int32Array(new SharedArrayBuffer(4)),
    states: new Int32Array(new SharedArrayBuffer(4 * chunks)),
    results: new Float64Array(new SharedArrayBuffer(8 * pieces)),
  };
}

/** Takes chunk after chunk until none is left; `after` is called when one is done. */
export function workChunks(shared: SharedPieces, work: (index: number) => number, after?: () => void): void {
  for (;;) {
    const chunk = Atomics.add(shared.next, 0, 1);
    if (chunk >= shared.states.length) return;
    workChunk(shared, chunk, work);
    after?.();
  }
}

/** A chunk in which a piece throws is marked, and what was thrown passed on. */
export function workChunk(shared: SharedPieces, chunk: number, work: (index: number) => number): void {
  const { results } = shared;
  let state = FAILED;
  try {
    const end = Math.min(results.length, (chunk + 1) * CHUNK);
    for (let index = chunk * CHUNK; index < end; index++) results[index] = work(index);
    state = DONE;
  } finally {
    Atomics.store(shared.states, chunk, state);
    Atomics.notify(shared.states, chunk);
  }
}

export function countDone({ states }: SharedPieces): number {
  return states.reduce((done, _, chunk) => done + (Atomics.load(states, chunk) === DONE ? 1 : 0), 0);
}
