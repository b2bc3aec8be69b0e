import { workerData } from 'node:worker_threads';
import { PIECE_TASKS } from '../engine/calculations/piece-tasks.ts';
import { type SharedPieces, workChunks } from './shared-pieces.ts';

/** What a thread is started with. */
export interface PieceOrder {
  readonly task: string;
  readonly input: unknown;
  readonly shared: SharedPieces;
}

/** The whole of a thread: works chunks of one task until none is left. */
const { task, input, shared } = workerData as PieceOrder;
const found = PIECE_TASKS.get(task);
if (!found) throw new Error(`no task '${task}'`);
workChunks(shared, (index) => found.work(input as never, index));
