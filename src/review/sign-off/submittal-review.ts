import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import type { FrontMatter } from '../../source/note-source.ts';
import { type NoteReview, reviewNote } from './note-review.ts';
import type { Issue } from './register-entry.ts';
import { findSupersededNotes, type SupersededNote } from './superseded-notes.ts';

/** How a submittal stands. Nobody signs it: it stands as its notes do. */
export interface SubmittalReview {
  /** Of the submittal itself, the oldest first. */
  readonly issues: readonly Issue[];
  readonly mark: NoteReview['mark'];
  /** Notes of its present revision, as it was issued, of which others count now. */
  readonly superseded: readonly SupersededNote[];
  readonly notes: ReadonlyMap<EvaluatedNote, NoteReview>;
}

/**
 * A submittal is a draft until it is issued, void once a sign-off of one of its notes is; superseded when a later revision of it was
 * issued, or of one of its notes, and withdrawn where the register says so of it or of one of its notes.
 */
export function reviewSubmittal(
  frontMatter: Pick<FrontMatter, 'number' | 'revision'>,
  notes: ReadonlyMap<EvaluatedNote, NoteReview>,
  register: readonly Issue[],
): SubmittalReview {
  const within = [...notes.values()];
  const { issues, mark } = reviewNote(
    frontMatter,
    within.flatMap(({ signOffs }) => signOffs),
    register,
  );
  const own = issues.find(({ revision }) => revision === frontMatter.revision);
  const superseded = own ? findSupersededNotes(own, register) : [];
  const isWithdrawn = (note: NoteReview): boolean => note.mark === 'withdrawn';
  if (mark === 'withdrawn' || within.some(isWithdrawn))
    return { issues, mark: 'withdrawn', superseded, notes };
  const isSuperseded = superseded.length > 0 || within.some((note) => note.mark === 'superseded');
  return { issues, mark: isSuperseded ? 'superseded' : mark, superseded, notes };
}
