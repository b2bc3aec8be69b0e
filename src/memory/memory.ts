import { sameValue } from './same-value.ts';

/** Answers a question with plain data. As long as nothing changes, the same question has the same answer. */
export type Ask<Answer> = (question: string) => Answer;

/** A result with what was asked on the way to it. */
interface Remembered {
  readonly reads: readonly (readonly [question: string, answer: unknown])[];
  readonly result: unknown;
  round: number;
}

/** So many rounds a result is kept in which nobody asked for it: taking back an edit finds what was there before. */
const KEPT_ROUNDS = 8;

/**
 * Remembers the results of queries: functions of content, which may ask questions of the world around them. A query is computed
 * anew only where its content is new or a question that it really asked has another answer; what it might have asked and did not
 * ask does not matter. Answers are compared by value, so that a change that comes to the same goes no further.
 *
 * **Invariant:** what is remembered is what would be computed. A result depends on nothing but the content and the answers, holds no
 * clock, and is not changed by whoever receives it.
 */
export class Memory {
  readonly #queries = new Map<string, Map<string, Remembered[]>>();
  readonly #computed = new Map<string, number>();
  /** The queries that are being computed, by where their results are kept. */
  readonly #running = new Set<readonly Remembered[]>();
  readonly #names = new WeakMap<object, string>();
  #named = 0;
  #round = 0;

  /** The result of a query that rests on its content alone. */
  recall<Result>(query: string, content: string, work: () => Result): Result {
    return this.recallReading(query, content, refuseToAnswer, work);
  }

  /**
   * The result of a query that also asks questions.
   *
   * @param content all that it rests on beside the answers, as one text (`contentKey`)
   * @param ask answers questions as things are now
   * @param work computes the result; it must ask only through the `ask` that it is given
   * @throws {Error} where the query needs its own result; what `work` throws goes through and is not remembered
   */
  recallReading<Answer, Result>(
    query: string,
    content: string,
    ask: Ask<Answer>,
    work: (ask: Ask<Answer>) => Result,
  ): Result {
    const results = this.#resultsOf(query, content);
    const known = results.find(({ reads }) =>
      reads.every(([question, answer]) => sameValue(ask(question), answer)),
    );
    if (known) {
      known.round = this.#round;
      return known.result as Result;
    }
    const reads = new Map<string, Answer>();
    const result = this.#compute(query, results, () =>
      work((question) => {
        if (reads.has(question)) return reads.get(question)!;
        const answer = ask(question);
        reads.set(question, answer);
        return answer;
      }),
    );
    // One that comes to the same as before is handed out as that same object: what rests on it need not look further.
    const before = results.find((other) => sameValue(other.result, result));
    const kept = before ? (before.result as Result) : result;
    results.push({ reads: [...reads], result: kept, round: this.#round });
    return kept;
  }

  /** A short text for a remembered object in the content of another query: the same for the same object, and for no other. */
  nameOf(remembered: object): string {
    const known = this.#names.get(remembered);
    if (known !== undefined) return known;
    this.#named += 1;
    const name = `#${this.#named}`;
    this.#names.set(remembered, name);
    return name;
  }

  /** How many results were computed, by query, since this was last asked. */
  takeCounts(): ReadonlyMap<string, number> {
    const counts = new Map(this.#computed);
    this.#computed.clear();
    return counts;
  }

  /** Ends a round of questions, after which an edit may come. Results that nobody has asked for in a long time are forgotten. */
  endRound(): void {
    this.#round += 1;
    for (const [query, contents] of this.#queries) {
      for (const [content, results] of contents) {
        const kept = results.filter(({ round }) => this.#round - round <= KEPT_ROUNDS);
        if (kept.length === 0) contents.delete(content);
        else if (kept.length < results.length) contents.set(content, kept);
      }
      if (contents.size === 0) this.#queries.delete(query);
    }
  }

  #resultsOf(query: string, content: string): Remembered[] {
    let contents = this.#queries.get(query);
    if (!contents) {
      contents = new Map();
      this.#queries.set(query, contents);
    }
    let results = contents.get(content);
    if (!results) {
      results = [];
      contents.set(content, results);
    }
    return results;
  }

  #compute<Result>(query: string, results: readonly Remembered[], work: () => Result): Result {
    if (this.#running.has(results)) throw new Error(`the query '${query}' needs its own result`);
    this.#running.add(results);
    try {
      this.#computed.set(query, (this.#computed.get(query) ?? 0) + 1);
      return work();
    } finally {
      this.#running.delete(results);
    }
  }
}

function refuseToAnswer(question: string): never {
  throw new Error(`a query that rests on its content alone asked '${question}'`);
}
