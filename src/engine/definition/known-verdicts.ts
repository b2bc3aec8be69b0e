/**
 * What verdicts at some values tell of those at others, where each of them turns at most once over a stretch and it is known which way: some to
 * met as the value rises, the others to not met.
 */
export class KnownVerdicts {
  readonly #low: number;
  readonly #high: number;
  /** Verdicts that turn to met are met from here on at least, and not met up to here at least. */
  #metFrom = Number.POSITIVE_INFINITY;
  #unmetTo = Number.NEGATIVE_INFINITY;
  /** Verdicts that turn to not met are met up to here at least, and not met from here on at least. */
  #metTo = Number.NEGATIVE_INFINITY;
  #unmetFrom = Number.POSITIVE_INFINITY;

  constructor(low: number, high: number) {
    this.#low = low;
    this.#high = high;
  }

  /**
   * Takes note of what was found at a value.
   *
   * @param turnToMet whether all of the verdicts that turn to met are met there; undefined where not all were asked
   * @param turnFromMet the same of those that turn to not met, or do not turn
   */
  note(si: number, turnToMet: boolean | undefined, turnFromMet: boolean | undefined): void {
    if (!this.#covers(si)) return;
    if (turnToMet === true) this.#metFrom = Math.min(this.#metFrom, si);
    if (turnToMet === false) this.#unmetTo = Math.max(this.#unmetTo, si);
    if (turnFromMet === true) this.#metTo = Math.max(this.#metTo, si);
    if (turnFromMet === false) this.#unmetFrom = Math.min(this.#unmetFrom, si);
  }

  /** Whether every verdict is met at a value; undefined where that does not follow from what is known. */
  at(si: number): boolean | undefined {
    if (!this.#covers(si)) return undefined;
    if (si <= this.#unmetTo || si >= this.#unmetFrom) return false;
    return si >= this.#metFrom && si <= this.#metTo ? true : undefined;
  }

  /** Whether of all values from one to another, which may run down, the same is known. */
  isOne(one: number, other: number): boolean {
    const [low, high] = one < other ? [one, other] : [other, one];
    if (!this.#covers(low) || !this.#covers(high)) return false;
    return high <= this.#unmetTo || low >= this.#unmetFrom || (low >= this.#metFrom && high <= this.#metTo);
  }

  #covers(si: number): boolean {
    return si >= this.#low && si <= this.#high;
  }
}
