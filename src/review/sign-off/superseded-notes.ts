import type { Issue } from './register-entry.ts';

/** A note of a submittal that counts no more as it stands there. */
export interface SupersededNote {
  readonly number: string;
  readonly revision: string;
  /** The issue that has put another revision in its place, by itself or within a submittal; or its own, where that was withdrawn. */
  readonly by: Issue;
  /** The revision that counts instead; absent where the issue was withdrawn. */
  readonly later?: string;
}

/**
 * The notes of an issued submittal of which another revision was issued after it, or whose own issue was withdrawn.
 *
 * @param register all issues, the oldest first, the submittal's own among them
 */
export function findSupersededNotes(submittal: Issue, register: readonly Issue[]): readonly SupersededNote[] {
  const at = register.findIndex(
    ({ number, revision }) => number === submittal.number && revision === submittal.revision,
  );
  const after = register.slice(at + 1);
  return (submittal.notes ?? []).flatMap(({ number, revision }): SupersededNote[] => {
    const own = register.find((issue) => issue.number === number && issue.revision === revision);
    if (own?.withdrawal) return [{ number, revision, by: own }];
    const by = after.findLast((issue) => revisionIn(issue, number) !== undefined);
    const later = by && revisionIn(by, number);
    return by && later !== undefined && later !== revision ? [{ number, revision, by, later }] : [];
  });
}

/** Whether an entry is of one of these documents, or of a submittal that holds one of them. */
export function concerns({ number, notes = [] }: Issue, numbers: ReadonlySet<string>): boolean {
  return numbers.has(number) || notes.some((note) => numbers.has(note.number));
}

/** The revision in which a note is issued by an entry: its own, or that of a submittal. */
function revisionIn(issue: Issue, number: string): string | undefined {
  if (issue.withdrawal) return undefined;
  if (issue.number === number) return issue.revision;
  return issue.notes?.find((note) => note.number === number)?.revision;
}
