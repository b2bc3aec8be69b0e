import { nearestName } from '../../diagnostics/nearest-name.ts';
import { problem } from '../../diagnostics/problem.ts';
import type { KindTerm } from '../../quantity/kind-term.ts';
import { noteNumberOf } from '../../source/reference-target.ts';
import type { EvaluatedNote } from '../evaluated-note.ts';
import type { DoneBlock, Resolution } from '../resolve-target.ts';
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

/** The values of a note that was evaluated, by what it calls them itself. */
export interface NoteValues {
  /** The ids of its blocks and schedules. */
  readonly ids: ReadonlySet<string>;
  resolve(local: string): Resolution;
  varies(local: string): boolean;
  termOf(local: string): KindTerm | undefined;
  /** The evaluated block of a value: of a schedule that of the row, undefined for what is counted there. */
  blockOf(local: string): NamedInBlock | undefined;
}

/** A value as one of a block. */
export interface NamedInBlock {
  readonly block: DoneBlock;
  readonly name: string;
}

/** A note that was evaluated, for those that take values from it. */
export interface FinishedNote {
  readonly note: EvaluatedNote;
  /** Something of it is at fault, and has been reported: none of its values is to be taken. */
  readonly failed: boolean;
  readonly values: NoteValues;
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
    const { values } = other;
    const id = local.split('.')[0]!;
    if (values.ids.has(id)) return nameNote(values.resolve(local), number);
    const ids = [...values.ids];
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
    return this.#soundNote(number)?.values.varies(local) === true;
  }

  termOf({ number, local }: OtherTarget): KindTerm | undefined {
    return this.#soundNote(number)?.values.termOf(local);
  }

  /** What is known of a value that was taken; undefined where there is none. */
  taken(reference: OtherNoteReference): TakenValue | undefined {
    const resolution = this.resolve(reference);
    const other = this.#soundNote(reference.number);
    if (!resolution.ok || !other) return undefined;
    const { target, place, number: fileNumber, local } = reference;
    const { source, blocks, schedules } = other.note;
    const { number, title, revision, date } = source.frontMatter;
    const id = local.split('.')[0];
    const found = other.values.blockOf(local);
    return {
      target,
      place,
      from: { fileNumber, path: source.path, number, title, revision, date },
      blockTitle: [...blocks, ...schedules].find((one) => one.id === id)!.title,
      ...describeTaken(found),
      value: resolution.target,
    };
  }

  #soundNote(number: string): FinishedNote | undefined {
    const [path, second] = this.#numbers.get(number) ?? [];
    const other = path === undefined || second !== undefined ? undefined : this.#finished.get(path);
    return other?.failed ? undefined : other;
  }
}

/** What is at fault with a name over there, said with the number of the note. */
function nameNote(resolution: Resolution, number: string): Resolution {
  if (resolution.ok || !resolution.problem) return resolution;
  const { code, data, span } = resolution.problem;
  const named = 'id' in data && typeof data.id === 'string' ? { ...data, id: `${number}/${data.id}` } : data;
  return { ok: false, problem: problem(code, named as never, span) };
}
