import { parentPort } from 'node:worker_threads';
import { type PackOrder, workOrder } from './packing-thread.ts';

/** The whole of a thread: packs what it is asked to, order after order. */
parentPort!.on('message', (order: PackOrder) => workOrder(order));
