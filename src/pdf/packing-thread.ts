import { Worker } from 'node:worker_threads';
import { type Packer, packPiece } from './packer.ts';

/** What a thread packs: memory that it shares with the one that asked. */
export interface PackOrder {
  /** The number of the next piece that nobody has taken. */
  readonly next: Int32Array;
  /** For each piece the length of what it was packed into; OPEN before, FAILED where that is longer than the piece. */
  readonly lengths: Int32Array;
  /** Where each piece begins, and where the last one ends. */
  readonly starts: readonly number[];
  /** The pieces; a packed one stands where the piece stood. */
  readonly bytes: Uint8Array;
}

const OPEN = 0;
const FAILED = -1;

export interface PackingThread extends Packer {
  close(): void;
}

/** After so many milliseconds a piece of a thread that no longer answers is packed here. */
const PATIENCE = 30_000;

/** A thread runs the built program, of whose files it is one; the sources themselves, as tests run them, stay in one thread. */
const WORKER = new URL('./pack-pieces.js', import.meta.url);
const IS_BUILT = !import.meta.url.endsWith('.ts');

/** Starts a thread that packs while other work is done here; what it has not begun when it is asked for is packed here. It must be closed. */
export function startPackingThread(): PackingThread {
  const worker = IS_BUILT ? new Worker(WORKER) : undefined;
  // What fails there is packed again here.
  worker?.on('error', () => undefined);
  worker?.unref();
  return {
    pack: (pieces) => {
      const order = placeOrder(pieces);
      worker?.postMessage(order);
      let packed: readonly Uint8Array[] | undefined;
      return () => {
        packed ??= takePacked(pieces, order);
        return packed;
      };
    },
    close: () => void worker?.terminate(),
  };
}

function placeOrder(pieces: readonly Uint8Array[]): PackOrder {
  const starts = [0];
  for (const piece of pieces) starts.push(starts.at(-1)! + piece.length);
  const bytes = new Uint8Array(new SharedArrayBuffer(starts.at(-1)!));
  for (const [i, piece] of pieces.entries()) bytes.set(piece, starts[i]!);
  return {
    next: new Int32Array(new SharedArrayBuffer(4)),
    lengths: new Int32Array(new SharedArrayBuffer(4 * pieces.length)),
    starts,
    bytes,
  };
}

/** Packs what is left, and waits for what the thread has begun. */
function takePacked(pieces: readonly Uint8Array[], order: PackOrder): Uint8Array[] {
  const { next, lengths, starts, bytes } = order;
  const packed: (Uint8Array | undefined)[] = pieces.map(() => undefined);
  for (let i = Atomics.add(next, 0, 1); i < pieces.length; i = Atomics.add(next, 0, 1))
    packed[i] = packPiece(pieces[i]!);
  return pieces.map((piece, i) => {
    if (packed[i]) return packed[i];
    if (Atomics.load(lengths, i) === OPEN) Atomics.wait(lengths, i, OPEN, PATIENCE);
    const length = Atomics.load(lengths, i);
    return length > 0 ? bytes.slice(starts[i], starts[i]! + length) : packPiece(piece);
  });
}

/** Packs pieces of an order until none is left that nobody has taken. */
export function workOrder({ next, lengths, starts, bytes }: PackOrder): void {
  for (let i = Atomics.add(next, 0, 1); i < lengths.length; i = Atomics.add(next, 0, 1)) {
    const packed = packPiece(bytes.slice(starts[i], starts[i + 1]));
    const fits = packed.length <= starts[i + 1]! - starts[i]!;
    if (fits) bytes.set(packed, starts[i]);
    Atomics.store(lengths, i, fits ? packed.length : FAILED);
    Atomics.notify(lengths, i);
  }
}
