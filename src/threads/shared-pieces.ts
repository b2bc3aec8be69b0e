/** Memory that the threads of one task share. Each piece has its place, so that it matters to no result who works it. */
export interface SharedPieces {
  /** The number of the next piece that nobody has taken. */
  readonly next: Int32Array;
  /** How many are done. */
  readonly done: Int32Array;
  /** For each piece whether it is done. */
  readonly states: Int32Array;
  readonly results: Float64Array;
}

export const OPEN = 0;
const DONE = 1;
export const FAILED = 2;

export function sharePieces(pieces: number): SharedPieces {
  const integers = (count: number): Int32Array => new Int32Array(new SharedArrayBuffer(4 * count));
  return {
    next: integers(1),
    done: integers(1),
    states: integers(pieces),
    results: new Float64Array(new SharedArrayBuffer(8 * pieces)),
  };
}

/** Takes piece after piece until none is left, so that all threads end together; `after` is called when one is done. */
export function workPieces(shared: SharedPieces, work: (index: number) => number, after?: () => void): void {
  for (;;) {
    const piece = Atomics.add(shared.next, 0, 1);
    if (piece >= shared.states.length) return;
    workPiece(shared, piece, work);
    after?.();
  }
}

/** A piece that throws is marked, and what was thrown passed on. */
export function workPiece(shared: SharedPieces, piece: number, work: (index: number) => number): void {
  let state = FAILED;
  try {
    shared.results[piece] = work(piece);
    state = DONE;
  } finally {
    const before = Atomics.exchange(shared.states, piece, state);
    if (state === DONE && before !== DONE) Atomics.add(shared.done, 0, 1);
    Atomics.notify(shared.states, piece);
  }
}

export function countDone({ done }: SharedPieces): number {
  return Atomics.load(done, 0);
}
