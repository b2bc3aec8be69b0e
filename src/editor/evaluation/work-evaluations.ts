import { parentPort } from 'node:worker_threads';
import { Evaluator } from './evaluator.ts';
import type { EvaluationOrder } from './outcome.ts';
import { FactsTeller } from './told-facts.ts';

/** The whole of a thread: evaluates a project whenever it is told what has changed. */
const evaluator = new Evaluator();
const teller = new FactsTeller();
parentPort!.on('message', (order: EvaluationOrder) =>
  parentPort!.postMessage(teller.tell(evaluator.evaluate(order))),
);
