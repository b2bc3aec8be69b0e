import type { FrontMatter } from '../../source/note-source.ts';
import type { SignOff } from './judge-sign-offs.ts';
import type { Issue } from './register-entry.ts';
import type { ReliedOnNote } from './relied-on-notes.ts';

/** What stands across every page of a note, or 'none'. */
export type ReviewMark = 'draft' | 'void' | 'superseded' | 'withdrawn' | 'none';

/** How a note stands: sign-offs, issues, and the mark that follows from them. */
export interface NoteReview {
  readonly signOffs: readonly SignOff[];
  /** Of this note, the oldest first. */
  readonly issues: readonly Issue[];
  readonly mark: ReviewMark;
  /** The notes on which it rests, and how they stand. */
  readonly restsOn?: readonly ReliedOnNote[];
}

/**
 * A note is a draft until all have signed and it is issued; void once a sign-off is; superseded when a later revision was issued, and
 * withdrawn where the register says so.
 */
export function reviewNote(
  { number, revision }: Pick<FrontMatter, 'number' | 'revision'>,
  signOffs: readonly SignOff[],
  register: readonly Issue[],
): NoteReview {
  const issues = register.filter((issue) => issue.number === number);
  return { signOffs, issues, mark: chooseMark(revision, signOffs, issues) };
}

function chooseMark(revision: string, signOffs: readonly SignOff[], issues: readonly Issue[]): ReviewMark {
  const own = issues.findIndex((issue) => issue.revision === revision);
  if (issues[own]?.withdrawal) return 'withdrawn';
  if (own >= 0 && own < issues.length - 1) return 'superseded';
  if (signOffs.some(({ state }) => state === 'void')) return 'void';
  const signed = signOffs.length > 0 && signOffs.every(({ state }) => state === 'valid');
  return signed && own >= 0 ? 'none' : 'draft';
}
