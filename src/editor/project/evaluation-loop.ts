import { type EvaluationThread, startEvaluationThread } from '../evaluation/evaluation-thread.ts';
import type { EvaluationOutcome } from '../evaluation/outcome.ts';
import type { EditorProject } from './editor-project.ts';

/** So long after the last keystroke a project is evaluated, in milliseconds. */
const PAUSE = 60;

interface Waiting {
  readonly round: number;
  readonly done: (outcome: EvaluationOutcome) => void;
  readonly fail: (error: Error) => void;
}

/**
 * Keeps a project evaluated: after each edit, when typing pauses, one evaluation at a time. What comes while one is under way is taken
 * together in the next.
 */
export class EvaluationLoop {
  readonly #project: EditorProject;
  readonly #publish: (outcome: EvaluationOutcome) => void;
  readonly #report: (error: unknown) => void;
  #thread: EvaluationThread | undefined;
  #wanted = 0;
  #done = 0;
  #isRunning = false;
  #timer: NodeJS.Timeout | undefined;
  #waiting: Waiting[] = [];
  #last: EvaluationOutcome | undefined;
  #isEnded = false;

  /**
   * @param publish told of each outcome
   * @param report told of what goes wrong in an evaluation, which is a fault of the program
   */
  constructor(
    project: EditorProject,
    publish: (outcome: EvaluationOutcome) => void,
    report: (error: unknown) => void,
  ) {
    this.#project = project;
    this.#publish = publish;
    this.#report = report;
  }

  /** What came of the project last; perhaps of texts that are others now. */
  get last(): EvaluationOutcome | undefined {
    return this.#last;
  }

  /** Something may be other than it was. */
  touch(): void {
    this.#wanted += 1;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.#run(), PAUSE);
  }

  /** The outcome of the texts as they are now. */
  current(): Promise<EvaluationOutcome> {
    if (this.#last && this.#done === this.#wanted) return Promise.resolve(this.#last);
    if (this.#isEnded) return Promise.reject(new Error('the project was closed'));
    return new Promise((done, fail) => this.#waiting.push({ round: this.#wanted, done, fail }));
  }

  end(): void {
    this.#isEnded = true;
    clearTimeout(this.#timer);
    this.#thread?.end();
    this.#settle((waiting) => waiting.fail(new Error('the project was closed')), Number.POSITIVE_INFINITY);
  }

  async #run(): Promise<void> {
    if (this.#isRunning || this.#isEnded) return;
    this.#isRunning = true;
    const round = this.#wanted;
    try {
      this.#thread ??= startEvaluationThread();
      const outcome = await this.#thread.evaluate(await this.#project.makeOrder(round));
      // What a file that was not read holds nobody knows yet: it is read for the next round, which says what holds.
      if (this.#project.learn(outcome.files)) this.#wanted += 1;
      else this.#take(outcome, round);
    } catch (error) {
      if (!this.#isEnded) this.#giveUp(error, round);
    }
    this.#isRunning = false;
    // While the timer runs, typing goes on.
    if (this.#wanted > round && !this.#isEnded) this.#touchAgain();
  }

  #take(outcome: EvaluationOutcome, round: number): void {
    this.#last = outcome;
    this.#done = round;
    if (!this.#isEnded) this.#publish(outcome);
    this.#settle((waiting) => waiting.done(outcome), round);
  }

  /** What came meanwhile is evaluated without a further pause, unless typing goes on. */
  #touchAgain(): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.#run(), PAUSE / 2);
  }

  /** The next edit begins with a new thread, which is told everything. */
  #giveUp(error: unknown, round: number): void {
    this.#thread?.end();
    this.#thread = undefined;
    this.#project.forgetTold();
    this.#report(error);
    const failure = error instanceof Error ? error : new Error(String(error));
    this.#settle((waiting) => waiting.fail(failure), round);
  }

  #settle(tell: (waiting: Waiting) => void, round: number): void {
    const due = this.#waiting.filter((waiting) => waiting.round <= round);
    this.#waiting = this.#waiting.filter((waiting) => waiting.round > round);
    for (const waiting of due) tell(waiting);
  }
}
