import { Worker } from 'node:worker_threads';
import { Evaluator } from './evaluator.ts';
import type { EvaluationOrder, EvaluationOutcome, ToldOutcome } from './outcome.ts';
import { FactsTaker } from './told-facts.ts';

/** Evaluates orders one after the other, away from whoever must answer at once. */
export interface EvaluationThread {
  /** @throws what goes wrong in the evaluation, or where the thread was ended; a next order must then name all texts */
  evaluate(order: EvaluationOrder): Promise<EvaluationOutcome>;
  end(): void;
}

/** A thread runs the built program, of whose files it is one; the sources themselves, as tests run them, stay in one thread. */
const WORKER = new URL('./work-evaluations.js', import.meta.url);
const IS_BUILT = !import.meta.url.endsWith('.ts');

export function startEvaluationThread(): EvaluationThread {
  return IS_BUILT ? new WorkerThread() : new SameThread();
}

class SameThread implements EvaluationThread {
  readonly #evaluator = new Evaluator();

  async evaluate(order: EvaluationOrder): Promise<EvaluationOutcome> {
    await new Promise((done) => setImmediate(done));
    return this.#evaluator.evaluate(order);
  }

  end(): void {}
}

class WorkerThread implements EvaluationThread {
  readonly #worker = new Worker(WORKER);
  readonly #taker = new FactsTaker();
  #failed: Error | undefined;

  constructor() {
    this.#worker.unref();
    this.#worker.on('error', (error: Error) => {
      this.#failed = error;
    });
  }

  evaluate(order: EvaluationOrder): Promise<EvaluationOutcome> {
    if (this.#failed) return Promise.reject(this.#failed);
    return new Promise((done, fail) => {
      const stop = (): void => {
        this.#worker.off('message', take);
        this.#worker.off('error', fail);
        this.#worker.off('exit', ended);
      };
      const take = (told: ToldOutcome): void => {
        stop();
        done(this.#taker.take(told));
      };
      const ended = (): void => {
        stop();
        fail(this.#failed ?? new Error('the thread has ended'));
      };
      this.#worker.once('error', fail);
      this.#worker.once('exit', ended);
      this.#worker.on('message', take);
      this.#worker.postMessage(order);
    });
  }

  end(): void {
    void this.#worker.terminate();
  }
}
