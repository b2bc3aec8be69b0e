import type { Place } from '../../diagnostics/place.ts';
import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import type { OtherNote } from '../../evaluation/other-notes/taken-value.ts';
import type { SignOff } from './judge-sign-offs.ts';
import type { NoteReview } from './note-review.ts';
import type { Issue } from './register-entry.ts';

/** How a note stands from which others take values. */
export interface OtherNoteState {
  /** Signed off by all, and neither void, superseded nor withdrawn: what rests on it rests on something. */
  readonly sound: boolean;
  /** 'signed off, issued 2032-02-20' */
  readonly words: string;
}

/** A note on which another rests. */
export interface ReliedOnNote {
  readonly note: OtherNote;
  readonly state: OtherNoteState;
  /** Where the reference stands that leads there, or to the first note on the way. */
  readonly place: Place;
  /** The numbers of the files of the notes through which it is reached; empty where a value is taken from itself. */
  readonly through: readonly string[];
  readonly signOffs: readonly SignOff[];
  /** Of that note, the oldest first. */
  readonly issues: readonly Issue[];
}

/**
 * The notes on which a note rests: those from which it takes values in the order of the text, then those on which these rest.
 *
 * @param find a note of the project by its path, and how it stands
 */
export function listReliedOn(
  note: EvaluatedNote,
  find: (path: string) => { readonly note: EvaluatedNote; readonly review: NoteReview } | undefined,
): readonly ReliedOnNote[] {
  const found = new Map<string, ReliedOnNote>();
  const open: { of: EvaluatedNote; place: Place | undefined; through: readonly string[] }[] = [
    { of: note, place: undefined, through: [] },
  ];
  for (let next = open.shift(); next; next = open.shift()) {
    for (const { from, place } of next.of.taken) {
      const other = found.has(from.path) ? undefined : find(from.path);
      if (!other) continue;
      const first = next.place ?? place;
      const { signOffs, issues } = other.review;
      const state = stateOf(other.note, other.review);
      found.set(from.path, { note: from, state, place: first, through: next.through, signOffs, issues });
      open.push({ of: other.note, place: first, through: [...next.through, from.fileNumber] });
    }
  }
  return [...found.values()];
}

function stateOf({ source }: EvaluatedNote, { signOffs, issues, mark }: NoteReview): OtherNoteState {
  const { revision } = source.frontMatter;
  const own = issues.find((issue) => issue.revision === revision);
  const unsound = (words: string): OtherNoteState => ({ sound: false, words });
  const missing = signOffs.filter(({ state }) => state === 'missing').map(({ role }) => role);
  switch (mark) {
    case 'withdrawn':
      return unsound(`withdrawn ${own!.withdrawal!.date}`);
    case 'superseded':
      return unsound(`superseded by revision ${issues.at(-1)!.revision}`);
    case 'void': {
      const roles = signOffs.filter(({ state }) => state === 'void').map(({ role }) => role);
      return unsound(`sign-off void: ${roles.join(', ')}`);
    }
    case 'draft':
      if (missing.length === signOffs.length) return unsound('not signed off');
      if (missing.length > 0) return unsound(`sign-off missing: ${missing.join(', ')}`);
      return { sound: true, words: 'signed off, not issued' };
    case 'none':
      return { sound: true, words: `signed off, issued ${own!.date}` };
  }
}
