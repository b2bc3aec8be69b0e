import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { evaluateOnce } from '../../src/cli/commands/evaluate.ts';
import { EXIT } from '../../src/cli/exit-status.ts';
import { loadAndEvaluate } from '../../src/cli/load-and-evaluate.ts';
import { makePages } from '../../src/cli/make-pages.ts';
import { recordResults } from '../../src/cli/record-results.ts';
import type { Terminal } from '../../src/cli/terminal.ts';
import type { Diagnostic } from '../../src/diagnostics/diagnostic.ts';
import type { SourceTexts } from '../../src/diagnostics/positions.ts';
import { Memory } from '../../src/memory/memory.ts';
import type { NoteReview } from '../../src/review/sign-off/note-review.ts';
import { toldOf } from '../support/told.ts';

export type Files = Readonly<Record<string, string | Uint8Array>>;

export interface Trialled {
  readonly errors: readonly string[];
  /** The first thing that is wrong with what was said or made. */
  readonly fault: string | undefined;
  /** How the notes stand. */
  readonly reviews: readonly NoteReview[];
}

/** What no reader should see. A word among others with hyphens, or in a longer one, is another. */
const NO_VALUE = /(?<![-\w])(?:NaN|Infinity|undefined)(?!\w)|\[object \w+\]/;

/**
 * A project that is changed file by file and evaluated and composed again and again, as `evaluate` and `compile --html --no-pdf` do, with one
 * memory: what did not change is not computed anew.
 */
export class ProjectTrial {
  readonly #folder: string;
  readonly #base: Files;
  readonly #memory = new Memory();
  /** Files that are not as in the base. */
  #changed = new Set<string>();

  constructor(folder: string, base: Files) {
    this.#folder = folder;
    this.#base = base;
    for (const [path, content] of Object.entries(base)) this.#write(path, content);
  }

  /**
   * @param changes what is other than in the base
   * @param notes paths of the notes; the whole project where absent
   */
  async judge(changes: Files, notes: readonly string[] = ['']): Promise<Trialled> {
    this.#lay(changes);
    const given = Object.values(changes).map((one) =>
      typeof one === 'string' ? one : Buffer.from(one).toString('latin1'),
    );
    const faults: string[] = [];
    const errors: string[] = [];
    const terminal = listening((diagnostics, texts) => {
      for (const one of toldOf(diagnostics, texts)) {
        if (one.severity === 'error') errors.push(one.code);
        const fault = faultOfDiagnostic(one, texts, given);
        if (fault !== undefined) faults.push(`${one.code}: ${fault}`);
      }
    });
    const paths = notes.map((note) => join(this.#folder, note));
    const options = { threads: 1, memory: this.#memory };
    const projects = await loadAndEvaluate(paths, options);
    const [loaded] = projects;
    terminal.diagnostics(loaded!.diagnostics, loaded!);
    const pages: string[] = [];
    const results: string[] = [];
    const reviews: NoteReview[] = [];
    if (errors.length === 0) {
      const recorded = await recordResults(projects, false, terminal);
      results.push(...[...(recorded?.values() ?? [])].map(({ fresh }) => fresh));
      const texts = new Map([...(recorded ?? [])].map(([note, { fresh }]) => [note, fresh]));
      const made = recorded && (await makePages(projects, texts, terminal));
      reviews.push(...(made?.notes ?? []).map(({ review }) => review));
      pages.push(
        ...[...(made?.notes ?? []), ...(made?.submittals ?? [])].map(({ rendered }) => rendered.body),
      );
      if (pages.length === 0 && errors.length === 0) faults.push('no page, and no error');
    }
    const said: string[] = [];
    const quiet = { ...terminal, diagnostics: () => {}, out: (text: string) => void said.push(text) };
    const status = await evaluateOnce(paths, { json: true }, quiet, this.#memory);
    if ((status === EXIT.done) !== (errors.length === 0)) {
      faults.push(
        `evaluate ends with ${status}, compile with ${errors.length} errors: ${errors.slice(0, 3)}`,
      );
    }
    for (const text of [...pages, ...results, ...said]) {
      const found = noValueIn(text, given);
      if (found !== undefined) faults.push(`says ${found}`);
    }
    return { errors, fault: faults[0], reviews };
  }

  #lay(changes: Files): void {
    const names = new Set(Object.keys(changes));
    for (const path of this.#changed) {
      if (names.has(path)) continue;
      const before = this.#base[path];
      if (before === undefined) rmSync(join(this.#folder, path), { force: true });
      else this.#write(path, before);
    }
    for (const [path, content] of Object.entries(changes)) this.#write(path, content);
    this.#changed = names;
  }

  #write(path: string, content: string | Uint8Array): void {
    mkdirSync(dirname(join(this.#folder, path)), { recursive: true });
    writeFileSync(join(this.#folder, path), content);
  }
}

function listening(diagnostics: (list: readonly Diagnostic[], texts: SourceTexts) => void): Terminal {
  const nothing = () => {};
  return {
    out: nothing,
    lines: nothing,
    wipe: nothing,
    err: nothing,
    progress: nothing,
    columns: undefined,
    diagnostics,
  };
}

/** What is wrong with a message: its words, or its place. */
export function faultOfDiagnostic(
  { message, hint, place, related = [] }: ReturnType<typeof toldOf>[number],
  texts: SourceTexts,
  given: readonly string[],
): string | undefined {
  const strange = noValueIn(`${message}\n${hint ?? ''}`, given);
  if (strange !== undefined) return `says ${strange}`;
  for (const { file, line, column } of [place, ...related.map((other) => other.place)]) {
    if (file === '' || line < 1 || column < 1) return `stands at ${file}:${line}:${column}`;
    const lines = linesOf(texts.textOf(file));
    if (lines && (line > lines.length || column > lines[line - 1]!.length + 1)) {
      return `stands at ${file}:${line}:${column}, where nothing is`;
    }
  }
  return undefined;
}

let parted: { readonly text: string; readonly lines: readonly string[] } | undefined;

/** The lines of a text; thousands of messages may stand in one. */
function linesOf(text: string | undefined): readonly string[] | undefined {
  if (text === undefined) return undefined;
  if (parted?.text !== text) parted = { text, lines: text.split(/\r\n|\n|\r/) };
  return parted.lines;
}

/** A word that stands for a missing value, unless somebody wrote it. */
function noValueIn(text: string, given: readonly string[]): string | undefined {
  const [word] = NO_VALUE.exec(text) ?? [];
  if (word === undefined || given.some((one) => one.toLowerCase().includes(word.toLowerCase())))
    return undefined;
  const at = text.indexOf(word);
  return JSON.stringify(text.slice(Math.max(0, at - 60), at + 60));
}
