import {
  byPlace,
  type Diagnostic,
  diagnose,
  locate,
  type RelatedPlace,
  type Severity,
} from './diagnostic.ts';
import type { Code, DataOf } from './messages.ts';
import type { Place } from './place.ts';
import type { Problem } from './problem.ts';

/** Gathers the diagnostics of one run, so that all of them are reported and none stops the search. */
export class Collector {
  readonly #diagnostics: Diagnostic[] = [];
  readonly #seen = new Set<string>();
  #errors = 0;

  error<C extends Code>(code: C, place: Place, data: DataOf<C>, related?: readonly RelatedPlace[]): void {
    this.#put('error', code, place, data, related);
  }

  caution<C extends Code>(code: C, place: Place, data: DataOf<C>, related?: readonly RelatedPlace[]): void {
    this.#put('caution', code, place, data, related);
  }

  /** Takes a problem of deeper code; see `locate`. */
  problem(problem: Problem, place: Place, textLength = -1): void {
    this.add(locate(problem, place, textLength));
  }

  /** Takes a finished diagnostic; the same message at the same place is kept once. */
  add(diagnostic: Diagnostic): void {
    const { file, line, column } = diagnostic.place;
    const key = `${file}:${line}:${column}:${diagnostic.severity}:${diagnostic.message}`;
    if (this.#seen.has(key)) return;
    this.#seen.add(key);
    this.#diagnostics.push(diagnostic);
    if (diagnostic.severity === 'error') this.#errors += 1;
  }

  get hasErrors(): boolean {
    return this.#errors > 0;
  }

  /** Everything gathered, in the order of the source. */
  list(): Diagnostic[] {
    return [...this.#diagnostics].sort(byPlace);
  }

  #put<C extends Code>(
    severity: Severity,
    code: C,
    place: Place,
    data: DataOf<C>,
    related?: readonly RelatedPlace[],
  ): void {
    this.add(diagnose(severity, code, place, data, related));
  }
}
