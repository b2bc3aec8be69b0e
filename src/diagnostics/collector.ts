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
import type { SourceTexts } from './positions.ts';
import type { Problem } from './problem.ts';
import { wordDiagnostic } from './word-diagnostic.ts';

const NO_TEXTS: SourceTexts = { textOf: () => undefined, startOfPiece: () => undefined };

/**
 * Gathers the diagnostics of one run, so that all of them are reported and none stops the search. It keeps the texts that were
 * read on the way, for lines and quotes where the diagnostics are shown.
 */
export class Collector implements SourceTexts {
  readonly #diagnostics: Diagnostic[] = [];
  readonly #seen = new Set<string>();
  readonly #texts = new Map<string, string>();
  readonly #pieces = new Map<string, ReadonlyMap<string, number>>();
  readonly #others: SourceTexts;
  #errors = 0;

  /** @param texts what was read before */
  constructor(texts: SourceTexts = NO_TEXTS) {
    this.#others = texts;
  }

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
    const { file, piece, start } = diagnostic.place;
    const { message } = wordDiagnostic(diagnostic);
    const key = `${file}:${piece ?? ''}:${start}:${diagnostic.severity}:${message}`;
    if (this.#seen.has(key)) return;
    this.#seen.add(key);
    this.#diagnostics.push(diagnostic);
    if (diagnostic.severity === 'error') this.#errors += 1;
  }

  /** Takes what another has gathered, texts and all. */
  addAll(other: Collector): void {
    this.keepTextsOf(other);
    for (const diagnostic of other.#diagnostics) this.add(diagnostic);
  }

  /** Keeps the texts that another has kept, without what it has gathered. */
  keepTextsOf(other: Collector): void {
    for (const [file, text] of other.#texts) this.#texts.set(file, text);
    for (const [file, pieces] of other.#pieces) this.#pieces.set(file, pieces);
  }

  /** Keeps the text of a file that was read, and where the blocks of a note begin in it. */
  keepText(file: string, text: string, pieces?: ReadonlyMap<string, number>): void {
    this.#texts.set(file, text);
    if (pieces) this.#pieces.set(file, pieces);
  }

  textOf(file: string): string | undefined {
    return this.#texts.get(file) ?? this.#others.textOf(file);
  }

  startOfPiece(file: string, piece: string): number | undefined {
    return this.#pieces.get(file)?.get(piece) ?? this.#others.startOfPiece(file, piece);
  }

  get hasErrors(): boolean {
    return this.#errors > 0;
  }

  /** Everything gathered, in the order of the source. */
  list(): Diagnostic[] {
    return [...this.#diagnostics].sort(byPlace(this));
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
