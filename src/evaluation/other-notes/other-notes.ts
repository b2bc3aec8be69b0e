import { nearestName } from '../../diagnostics/nearest-name.ts';
import { problem } from '../../diagnostics/problem.ts';
import type { KindTerm } from '../../quantity/kind-term.ts';
import { noteNumberOf } from '../../source/reference-target.ts';
import type { EvaluatedNote } from '../evaluated-note.ts';
import { blockIdOf, type DoneBlock, type Resolution, resolveInBlock } from '../resolve-target.ts';
import type { OtherNoteReference } from './list-other-references.ts';
import { describeTaken, type TakenValue } from './taken-value.ts';

/** A value of another note, by the number of that note and what it is called there. */
export type OtherTarget = Pick<OtherNoteReference, 'number' | 'local'>;

/** What a note can ask of the others. */
export interface OtherNotes {
  resolve(target: OtherTarget): Resolution;
  /** Whether the value varies with a range over there. */
  varies(target: OtherTarget): boolean;
  termOf(target: OtherTarget): KindTerm | undefined;
}

/** For a note that is evaluated by itself: there are no others. */
export const NO_OTHERS: OtherNotes = {
  resolve: ({ number }) => ({
    ok: false,
    problem: problem('unknown-note', { number, nearest: undefined, known: [] }),
  }),
  varies: () => false,
  termOf: () => undefined,
};

/** A note that was evaluated, for those that take values from it. */
export interface FinishedNote {
  readonly note: EvaluatedNote;
  /** Something of it is at fault, and has been reported: none of its values is to be taken. */
  readonly failed: boolean;
  readonly done: ReadonlyMap<string, DoneBlock>;
  /** Of each block the terms of its values. */
  readonly terms: ReadonlyMap<string, ReadonlyMap<string, KindTerm>>;
}

/**
 * The other notes as one note sees them. Of a number that several files have, of a note at fault, and of one that closes a circle no
 * value is taken; that is for whoever knows the places to report, once.
 */
export class OtherNotesOf implements OtherNotes {
  readonly #path: string;
  readonly #numbers: ReadonlyMap<string, readonly string[]>;
  readonly #finished: ReadonlyMap<string, FinishedNote>;

  constructor(
    path: string,
    numbers: ReadonlyMap<string, readonly string[]>,
    finished: ReadonlyMap<string, FinishedNote>,
  ) {
    this.#path = path;
    this.#numbers = numbers;
    this.#finished = finished;
  }

  resolve({ number, local }: OtherTarget): Resolution {
    if (number === noteNumberOf(this.#path))
      return { ok: false, problem: problem('own-number', { number, local }) };
    const known = [...this.#numbers.keys()];
    if (!this.#numbers.has(number)) {
      const nearest = nearestName(number, known);
      return { ok: false, problem: problem('unknown-note', { number, nearest, known }) };
    }
    const other = this.#soundNote(number);
    if (!other) return { ok: false };
    const block = blockOf(other, local);
    if (block) return resolveInBlock(local, block, `${number}/${block.id}`);
    const ids = [...other.done.keys()];
    const id = local.split('.')[0]!;
    return {
      ok: false,
      problem: problem('unknown-block-of-note', {
        id,
        file: other.note.source.path,
        nearest: nearestName(id, ids),
        known: ids,
      }),
    };
  }

  varies({ number, local }: OtherTarget): boolean {
    const other = this.#soundNote(number);
    const block = other && blockOf(other, local);
    return block?.varying.has(local.slice(block.id.length + 1)) === true;
  }

  termOf({ number, local }: OtherTarget): KindTerm | undefined {
    const other = this.#soundNote(number);
    const block = other && blockOf(other, local);
    // A limiting value is one of its given.
    const name = block && local.slice(block.id.length + 1).replace(/^limiting\./, '');
    return block && other.terms.get(block.id)?.get(name!);
  }

  /** What is known of a value that was taken; undefined where there is none. */
  taken(reference: OtherNoteReference): TakenValue | undefined {
    const resolution = this.resolve(reference);
    const other = this.#soundNote(reference.number);
    const block = other && blockOf(other, reference.local);
    if (!resolution.ok || !block) return undefined;
    const { target, place, number: fileNumber, local } = reference;
    const { path, frontMatter } = other.note.source;
    const { number, title, revision, date } = frontMatter;
    const name = local.slice(block.id.length + 1);
    return {
      target,
      place,
      from: { fileNumber, path, number, title, revision, date },
      blockTitle: other.note.blocks.find(({ id }) => id === block.id)!.title,
      name,
      ...describeTaken(name, block),
      value: resolution.target,
    };
  }

  #soundNote(number: string): FinishedNote | undefined {
    const [path, second] = this.#numbers.get(number) ?? [];
    const other = path === undefined || second !== undefined ? undefined : this.#finished.get(path);
    return other?.failed ? undefined : other;
  }
}

function blockOf({ done }: FinishedNote, local: string): DoneBlock | undefined {
  const id = blockIdOf(local, new Set(done.keys()));
  return id === undefined ? undefined : done.get(id);
}
