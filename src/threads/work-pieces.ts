import { parentPort, receiveMessageOnPort, workerData } from 'node:worker_threads';
import { PIECE_TASKS } from '../engine/calculations/piece-tasks.ts';
import { type SharedPieces, workPieces } from './shared-pieces.ts';

/** What a thread is asked to take part in. */
export interface PieceOrder {
  readonly task: string;
  readonly input: unknown;
  readonly shared: SharedPieces;
}

/** What a thread is started with. */
export interface PieceThread {
  /** Rises with every order. */
  readonly orders: Int32Array;
  /** After so many milliseconds without an order the thread ends. */
  readonly idle: number;
}

/** The whole of a thread: works pieces of one task after the other until nothing is asked for any more. */
const { orders, idle } = workerData as PieceThread;
for (;;) {
  const seen = Atomics.load(orders, 0);
  const received = receiveMessageOnPort(parentPort!) as { message: PieceOrder } | undefined;
  if (received) work(received.message);
  else if (Atomics.wait(orders, 0, seen, idle) === 'timed-out') break;
}

function work({ task, input, shared }: PieceOrder): void {
  const found = PIECE_TASKS.get(task);
  if (!found) throw new Error(`no task '${task}'`);
  workPieces(shared, (index) => found.work(input as never, index));
}
