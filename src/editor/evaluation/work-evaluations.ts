import { parentPort } from 'node:worker_threads';
import { Evaluator } from './evaluator.ts';
import type { EvaluationOrder } from './outcome.ts';

/** The whole of a thread: evaluates a project whenever it is told what has changed. */
const evaluator = new Evaluator();
parentPort!.on('message', (order: EvaluationOrder) => parentPort!.postMessage(evaluator.evaluate(order)));
